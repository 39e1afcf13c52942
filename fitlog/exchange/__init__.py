"""A log in other programs' files: the JSON document of a whole log, and trial cuts as a spreadsheet
has them.

Pure: text and bytes in, plain values out, and back. Nothing here knows the store, asks or prints.

`document` the JSON; `sheet` bytes to cells, whatever program wrote them; `columns` what their
headers mean; `cells` one length, one day, one text that a spreadsheet must not run; `cuts_out`
trial cuts to rows. Rows become trial cuts in `service.reader.rows`, as all that is typed.
"""
