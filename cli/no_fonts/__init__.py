"""What the DXF library finds where it would keep its list of the system's fonts: a list of none.

It looks through all fonts when it is first imported and keeps the list in the home folder. No file
of ours has lettering that it measures, so it need neither look nor write (see hangpost.cli.main).
"""
