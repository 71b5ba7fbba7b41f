"""Routes, one file a subject; each file has one `router`, and none knows another.

A route's name is `subject.function`. A live fragment is GET and answers 200 with a hint while a
number is half typed; a submitted form is POST and answers 303, or 422 with the page and all typed text.
Never here: rules of the office, wording that the office also prints.
"""
