"""How the program looks: one record of colours, and what is made from it.

`record` reads the table in assets, `in_use` holds the record of the moment, `palette`, `stylesheet`,
`icons` and `fonts` turn it into what the toolkit takes, `follow` picks the record.
"""
