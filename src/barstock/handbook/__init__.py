"""Published tables, each with its source beside it; `look` is the one way to ask for any of them.

May import quantities only. Lengths are in mm unless a name says otherwise. A row remembered rather
than looked up carries `memory = True`; a fact without a published source says `common practice`.
"""
