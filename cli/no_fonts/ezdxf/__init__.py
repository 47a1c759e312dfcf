"""The folder by the name that the DXF library asks for."""
