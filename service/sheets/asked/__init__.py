"""The records of single blocks of a sheet; `service.sheets.model` has all of them under one name."""
