"""The files that the shop, the installer and the maker get."""
