"""The web room: routes, forms, pages; the only room besides the door where HTTP is spoken.

Asking is GET, doing is POST, and every form works without script. A route reads a form, calls one
office verb inside one transaction, and leads on; a refusal shows the same page with the typed text kept.
Never here: SQL, prices, geometry, a sum of any kind.
"""
