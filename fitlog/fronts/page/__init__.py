"""The page at the bench: the use cases as a phone-sized page, served from the shop's computer.

A request passes `gate` (who may come in), is dealt by `app` to a screen of `screens` or to
`answers`, and both work in the one thread of `desk`, which holds the log. Plain HTML that works
before any script runs; `static/page.js` adds what only a browser can do, the answers kept on the
phone first.
"""
