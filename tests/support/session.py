"""A long session at the command line, invented: every command that writes to a log."""

from __future__ import annotations

from shop import BIT, STOCK, Shop

LINES = """
bit add marsh {bit}
bit add second --diameter 12.7 --angle 14 --cutting-length 14 --neck 6
bit add gone --diameter 9 --angle 8 --cutting-length 12
bit edit second --name spare --measured --diameter 12.64 --correction --yes
bit retire spare
bit edit spare --restore
bit remove gone
stock add elm {stock}
stock add ash --species ash --thickness 15 --width 140 --moisture 9
stock edit ash --thickness 16
stock add gone --species fir --thickness 15 --width 140
stock remove gone
stock retire ash
stock edit ash --restore
machine add bench --height-turn 1.5 --backlash 0.1 --between fence --fence-step 0.05
machine add left --height-step 0.05 --fence-zero 0.3
machine edit left --height-zero 0.2
machine add gone
machine remove gone
machine retire left
machine edit left --restore
prefer --units mm --name Mira
prefer --machine bench
start --bit marsh --stock elm --machine bench --yes
cut --slot --mouth 14.6 --yes
cut slightly tight, gap far 0.3, proud 0.2 --yes
cut --same-piece gap near --yes
cut loose --down 0.4 --note odd_one --scrap pine --yes
undo
redo
undo --piece 1 --yes
redo
undo
cut good, centred, flush --walls 60.1 60.3 --yes
note odd grain on the left --title upper_drawers
found --height 9.3
finish --as-it-is
undo
finish --as-it-is --kept top_shelf
outcome 1 tight with glue
bit sharpen marsh --diameter 13.0
bit sharpen marsh
start --bit marsh --stock elm --pin-stock ash --machine left --yes
cut tight --setup 2 --yes
finish --abandon --setup 2
start --bit spare --stock ash --machine bench --yes
undo --yes
redo
cut slightly loose --yes
use 1
prefer --units inch
prefer --units mm
prefer --machine left
"""
TABLE = "piece,height,fence,depth,fit,note\n1,9.1,80.2,9.0,tight,in the first\n"


def hold(shop: Shop, db: str) -> None:
    """Hold the session on the log at `db`, made by it; then take in a table, the log's own export
    as it went on elsewhere, and all of it in an empty log.
    """
    given = {"{bit}": BIT, "{stock}": STOCK}
    for line in LINES.strip().splitlines():
        words = [part for word in line.split() for part in given.get(word, (word,))]
        shop.run(*words, "--db", db)
    there = ("--db", str(shop.home / "elsewhere.db"))
    out = str(shop.home / "out.json")
    shop.run("log", "export", out, "--db", db)
    shop.run("log", "import", out, *there)
    shop.run("cut", "good", "--setup", "3", "--yes", *there)
    shop.run("bit", "edit", "spare", "--name", "other", *there)
    shop.run("bit", "add", "third", *BIT, *there)
    back = str(shop.home / "back.json")
    shop.run("log", "export", back, *there)
    shop.run("log", "import", back, "--db", db)
    table = shop.home / "cuts.csv"
    table.write_text(TABLE)
    shop.run("log", "import", str(table), "--bit", "third", "--stock", "elm", "--yes", "--db", db)
