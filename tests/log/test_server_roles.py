"""Who may write and who may read a log on a server: two roles a log, made and removed by one script
that psql runs.

The people are invented.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from postgres import Server, driver, programs
from shop import BIT, STOCK, Shop

from fitlog.log import open_log
from fitlog.log.care.roles import Roles, named

psycopg = driver()
ODD = '"odd\'ly ""named"'
PEOPLE = {"wren": "writer", "jay": "reader"}


def psql(server: Server, script: str, database: str = "shop") -> subprocess.CompletedProcess[str]:
    """Run a script as psql does for the superuser."""
    bin = programs()
    found = shutil.which("psql") or (str(bin / "psql") if bin else "")
    if not Path(found).exists():
        pytest.skip("psql is not installed here")
    command = [found, "-X", "-q", "-h", str(server.folder), "-p", str(server.port), "-U", "keeper"]
    return subprocess.run(
        [*command, "-d", database], input=script, capture_output=True, text=True, timeout=60
    )


def stocked(shop: Shop, url: str) -> str:
    shop.run("--db", url, "bit", "add", "marsh", *BIT)
    shop.run("--db", url, "stock", "add", "elm", *STOCK)
    return url


def made(shop: Shop, server: Server, url: str, database: str = "shop") -> Roles:
    """Run the script of a log; return its roles."""
    done = psql(server, shop.run("log", "roles", "--db", url).out, database)
    assert done.returncode == 0, done.stderr
    said = shop.run("log", "roles", "--db", url, "--json").document
    return Roles(said["reader"], said["writer"])


def removed(shop: Shop, server: Server, url: str, database: str = "shop") -> None:
    done = psql(server, shop.run("log", "roles", "--remove", "--db", url).out, database)
    assert done.returncode == 0, done.stderr


def joined(server: Server, roles: Roles, database: str = "shop", **people: str) -> None:
    for name, what in people.items():
        role = getattr(roles, what)
        server.run(
            f"CREATE ROLE {name} LOGIN PASSWORD '{server.password()}' IN ROLE {role}",
            database=database,
        )


@pytest.fixture
def log(server: Server, shop: Shop) -> Iterator[tuple[Server, str, Roles]]:
    """A stocked log, whose keeper made the roles; wren may write it, jay may read it."""
    place = server.place()
    schema = place.rsplit("=", 1)[1]
    roles = made(shop, server, stocked(shop, place))
    joined(server, roles, **PEOPLE)
    yield server, schema, roles
    server.run("DROP ROLE wren, jay")
    removed(shop, server, place)


def as_somebody(server: Server, who: str, schema: str, database: str = "shop") -> str:
    return (
        f"host=127.0.0.1 port={server.port} user={who} dbname={database} "
        f"options=-csearch_path={schema}"
    )


def test_two_logs_never_have_one_name() -> None:
    logs = [
        ("shop", "public"),
        ("Shop", "public"),
        ("shop", "Public"),
        ("a_b", "c"),
        ("a", "b_c"),
        ("a", "b"),
        ('a"b', "c"),
        ("x" * 60, "y"),
        ("x" * 60, "z"),
        ("ä" * 31, "y"),
    ]
    names = [name for of in logs for name in named(*of)]
    assert len(set(names)) == len(names)
    assert all(len(name.strip('"').encode()) <= 63 for name in names)
    assert named("shop", "public").writer == '"fitlog_writer_shop_public"'


def test_a_writer_appends_and_cannot_change_the_log(
    log: tuple[Server, str, Roles], shop: Shop
) -> None:
    server, schema, _ = log
    url = server.url("wren", schema=schema)
    shop.run("--db", url, "start")
    shop.run("--db", url, "cut", "tight")
    shop.run("--db", url, "bit", "edit", "marsh", "--neck", "7")
    with psycopg.connect(as_somebody(server, "wren", schema), autocommit=True) as plain:
        for statement in (
            "UPDATE verdict SET word = 'good'",
            "DELETE FROM entry",
            "TRUNCATE entry CASCADE",
            "UPDATE fitlog_layout SET version = 1",
            "ALTER TABLE entry DISABLE TRIGGER ALL",
            "CREATE TEMPORARY TABLE entry (id bigint)",
            "CREATE TABLE own (id bigint)",
        ):
            with pytest.raises(psycopg.errors.InsufficientPrivilege):
                plain.execute(statement)


def test_a_reader_reads_and_is_refused_writing_in_a_sentence(
    log: tuple[Server, str, Roles], shop: Shop
) -> None:
    server, schema, roles = log
    url = server.url("jay", schema=schema)
    shop.run("--db", server.url("wren", schema=schema), "start")
    assert shop.run("--db", url, "next", "--json").document["setup"] == 1
    assert len(shop.run("--db", url, "review", "--json").document["setups"]) == 1
    for line in (
        "cut tight",
        "finish --abandon",
        "undo --yes",
        "stock retire elm",
        "prefer --units inch",
        "found --height 9",
    ):
        error = shop.run("--db", url, *line.split(), "--json", code=1).document["error"]
        assert error["code"] == "read-only-log" and "role may only read" in error["message"], line
    # A new log to compare with is a schema, which a reader may not make.
    health = shop.run("--db", url, "log", "health", "--json").document
    assert health["sound"] and health["rules_compared"] is False
    assert "rules were not compared" in shop.run("--db", url, "log", "health").out
    with psycopg.connect(as_somebody(server, "jay", schema), autocommit=True) as plain:
        for mode in ("EXCLUSIVE", "ROW EXCLUSIVE", "SHARE"):
            with pytest.raises(psycopg.errors.InsufficientPrivilege):
                plain.execute(f"BEGIN; LOCK TABLE fitlog_turn IN {mode} MODE")
            plain.rollback()
    server.run(f"REVOKE SELECT ON ALL TABLES IN SCHEMA {schema} FROM {roles.reader}")
    assert (
        shop.run("--db", url, "next", "--json", code=1).document["error"]["code"] == "no-permission"
    )


def test_who_may_write_more_than_the_roles_say_is_told(
    log: tuple[Server, str, Roles], shop: Shop
) -> None:
    """A warning: the log is as sound as it was."""
    server, schema, roles = log
    url = server.url(schema=schema)
    assert shop.run("--db", url, "log", "health", "--json").document["granted_beyond"] == []
    for given, to, said in (
        ("INSERT ON {0}.entry", "PUBLIC", "everybody may INSERT in entry,"),
        ("UPDATE (value) ON {0}.preference", "PUBLIC", "everybody may UPDATE in preference,"),
        ("DELETE ON {0}.bit, {0}.stock", ODD, "odd'ly \"named may DELETE in bit, stock,"),
        ("TRUNCATE ON {0}.fitlog_turn", "jay", "jay may TRUNCATE in fitlog_turn,"),
        ("TRIGGER ON {0}.entry", "wren", "wren may TRIGGER in entry,"),
        ("INSERT ON {0}.bit", roles.reader, "may INSERT in bit,"),
        ("UPDATE ON {0}.entry", roles.writer, "may UPDATE in entry,"),
        ("DELETE ON {0}.fitlog_layout", roles.writer, "may DELETE in fitlog_layout,"),
    ):
        if to == ODD:
            server.run(f"CREATE ROLE {ODD}")
        server.run(f"GRANT {given.format(schema)} TO {to}")
        for line in ("log health", "log health --json"):
            shown = shop.run("--db", url, *line.split())
        (told,) = shown.document["granted_beyond"]
        assert said in told and shown.document["sound"], told
        (back,) = re.findall("REVOKE .* FROM .*", told)
        assert f"Beware: {told}." in shop.run("--db", url, "log", "health").out
        server.run(back)
        if to == ODD:
            server.run(f"DROP ROLE {ODD}")
    assert shop.run("--db", url, "log", "health", "--json").document["granted_beyond"] == []
    shop.run("log", "health", "--db", server.url("jay", schema=schema))


def test_roles_that_a_copy_of_the_log_needs_are_kept_and_the_copy_is_named(
    server: Server, shop: Shop
) -> None:
    """A dump put back into another database of the cluster gives its rights to the same roles."""
    place = stocked(shop, server.place())
    schema = place.rsplit("=", 1)[1]
    roles = made(shop, server, place)
    server.run('CREATE DATABASE "Copy" OWNER owner')
    copied = (
        f"CREATE SCHEMA {schema} AUTHORIZATION owner",
        f"CREATE TABLE {schema}.entry (id bigint)",
        f"GRANT SELECT ON {schema}.entry TO {roles.reader}",
        f"GRANT INSERT ON {schema}.entry TO {roles.writer}",
        f"GRANT USAGE ON SCHEMA {schema} TO {roles.reader}",
    )
    try:
        server.run(*copied, database="Copy")
        done = psql(server, shop.run("log", "roles", "--remove", "--db", place).out)
        assert done.returncode == 3
        assert 'the roles stay: a copy of this log, in the database "Copy",' in done.stderr
        assert len(server.run("SELECT rolname FROM pg_roles WHERE rolname LIKE 'fitlog%'")) == 2
        shop.run("log", "health", "--db", place)  # nothing was done in part
        assert server.run(
            f"SELECT relacl::text LIKE '%{roles.writer[1:-1]}%' FROM pg_class "
            f"WHERE oid = '{schema}.entry'::regclass"
        ) == [(True,)]
        (back,) = re.findall("run there, as its owner: (.*); then run this again", done.stderr)
        server.run(*back.split("; "), database="Copy")
        removed(shop, server, place)
    finally:
        server.run('DROP DATABASE "Copy"')
    assert server.run("SELECT rolname FROM pg_roles WHERE rolname LIKE 'fitlog%'") == []


@pytest.mark.parametrize("apart", ["schemas", "databases"])
def test_who_may_write_one_log_can_neither_write_nor_read_another(
    server: Server, shop: Shop, apart: str
) -> None:
    database = "barn" if apart == "databases" else "shop"
    if database == "barn":
        server.run("CREATE DATABASE barn OWNER owner")
        server.run("CREATE SCHEMA other AUTHORIZATION owner", database=database)
        here, there = server.place(), server.url(database=database, schema="other")
    else:
        here, there = server.place(), server.place()
    where = {url: (url.split("?")[0].rsplit("/")[-1], url.rsplit("=")[-1]) for url in (here, there)}
    people = dict(zip((here, there), ("wren", "jay"), strict=True))
    for url, (base, _) in where.items():
        roles = made(shop, server, stocked(shop, url), base)
        joined(server, roles, **{people[url]: "writer"})
    for url, who in people.items():
        base, schema = where[url]
        own, other = server.url(who, base, schema=schema), next(o for o in where if o != url)
        shop.run("--db", own, "start")
        foreign = server.url(who, where[other][0], schema=where[other][1])
        for line in ("next", "start", "log health"):
            said = shop.run(*line.split(), "--json", "--db", foreign, code=1).document["error"]
            assert said["code"] in ("no-permission", "no-schema"), said
        with psycopg.connect(as_somebody(server, who, "public", where[other][0])) as plain:
            for table in ("entry", "bit", "fitlog_turn"):
                for statement in ("SELECT * FROM {0}", "INSERT INTO {0} DEFAULT VALUES"):
                    with pytest.raises(psycopg.errors.InsufficientPrivilege):
                        plain.execute(statement.format(f"{where[other][1]}.{table}"))
                    plain.rollback()
    server.run("DROP ROLE wren, jay")
    for url, (base, _) in where.items():
        removed(shop, server, url, base)
    left = server.run("SELECT rolname FROM pg_roles WHERE rolname LIKE 'fitlog%'")
    assert left == []
    if database == "barn":
        server.run("DROP DATABASE barn")


def test_the_script_stops_at_the_first_error_and_does_nothing_in_part(
    server: Server, shop: Shop
) -> None:
    place = stocked(shop, server.place())
    script = shop.run("log", "roles", "--db", place).out
    schema = place.rsplit("=", 1)[1]
    for wrong, said in (
        (
            script.replace(f'GRANT USAGE ON SCHEMA "{schema}"', "GRANT USAGE ON SCHEMA nowhere"),
            "3F000",
        ),
        (script.replace("11 * 10000", "99").replace("< 110000", "< 990000"), "needs PostgreSQL"),
        (script.replace("<> 'shop'", "<> 'other'"), "this is for the database"),
        (script.replace(".fitlog_turn') IS", ".no_turn') IS"), "there is no log"),
    ):
        assert wrong != script, said
        done = psql(server, "\\set VERBOSITY verbose\n" + wrong)
        assert done.returncode == 3 and said in done.stderr, done
        assert server.run("SELECT count(*) FROM pg_roles WHERE rolname LIKE 'fitlog%'") == [(0,)]


def test_made_twice_is_made_once_and_the_roles_of_before_lose_this_log(
    server: Server, shop: Shop
) -> None:
    place = stocked(shop, server.place())
    schema = place.rsplit("=", 1)[1]
    server.run(
        "CREATE ROLE fitlog_reader",
        "CREATE ROLE fitlog_writer",
        f"GRANT USAGE ON SCHEMA {schema} TO fitlog_reader",
        f"GRANT SELECT ON {schema}.entry TO fitlog_reader",
        f"GRANT INSERT ON {schema}.entry TO fitlog_writer",
    )
    script = shop.run("log", "roles", "--db", place).out
    first, second = psql(server, script), psql(server, script)
    assert (first.returncode, second.returncode) == (0, 0), first.stderr + second.stderr
    assert "no longer reach this log" in first.stderr
    server.run("DROP ROLE fitlog_reader, fitlog_writer")  # refused while it has any right
    removed(shop, server, place)


def test_an_import_without_being_the_owner(server: Server, shop: Shop) -> None:
    """A writer's import gets numbers of the server's, in an empty log too, and without temporary
    tables.
    """
    shop.run("bit", "add", "gone", *BIT)
    shop.run("bit", "add", "marsh", *BIT)
    shop.run("bit", "remove", "gone")
    shop.run("stock", "add", "elm", *STOCK)
    shop.run("start")
    shop.run("cut", "tight")
    file = shop.home / "all.json"
    file.write_text(shop.run("log", "export").out)
    place = server.place()
    open_log(place, create=True).__exit__(None, None, None)
    joined(server, made(shop, server, place), **PEOPLE)
    url = server.url("wren", schema=place.rsplit("=", 1)[1])
    for _ in range(2):
        shop.run("log", "import", str(file), "--db", url)
    assert shop.run("log", "health", "--json", "--db", url).document["sound"]
    assert len(shop.run("review", "--json", "--db", url).document["setups"]) == 1
    assert server.run(f"SELECT id FROM {url.rsplit('=')[-1]}.bit") == [(1,)]
    server.run("DROP ROLE wren, jay")
    removed(shop, server, place)


AT = "'2031-03-04T05:06:07.890123Z'"
ENTRY = "INSERT INTO entry (kind, setup, at, by) VALUES ('{}', 1, " + AT + ", 'x')"
# What a writer tries at a plain shell: one transaction each, refused by its end at the latest.
# The log has set-up 1 with entries 1 start, 2 cut, 3 cut, 4 retract (of 3).
TRIES = [
    *(ENTRY.format(kind) for kind in ("start", "cut", "found", "retract", "redo")),
    # numbers
    *(
        f"INSERT INTO {table} (id, {names}) VALUES ({number}, {values})"
        for number in (6, 900, 2**63 - 1)
        for table, names, values in (
            ("entry", "kind, setup, at, by", f"'choose', 1, {AT}, 'x'"),
            ("preference", "login, key, value, at", f"'x', 'name', 'x', {AT}"),
            ("verdict", "cut, aspect, word", "2, 'fault', 'unplaced'"),
            ("machine", "name, retired, parts", "'m', false, '{}'"),
        )
    ),
    f"UPDATE stock SET id = {2**63 - 1}",
    # what hangs on an entry of another kind, of another set-up, or on another's piece
    "INSERT INTO trial_cut SELECT 1, advice, 2, settings, stated, advised, heard, note, scrap, "
    "sizes, slot, recut_of FROM trial_cut LIMIT 1",
    "INSERT INTO found VALUES (2, 1, '{\"bit_height\": 9}')",
    "INSERT INTO retraction VALUES (2, 1)",
    "INSERT INTO redo VALUES (2, 4)",
    "INSERT INTO verdict (cut, aspect, word) VALUES (2, 'seat', 'flush')",
    "INSERT INTO reading (cut, kind, value) VALUES (2, 'walls', 3.0)",
    # taking back a taking back, or what somebody chose
    ENTRY.format("retract") + "; INSERT INTO retraction VALUES (5, 4)",
    ENTRY.format("choose")
    + "; "
    + ENTRY.format("retract")
    + "; INSERT INTO retraction VALUES (6, 5)",
    ENTRY.format("redo") + "; INSERT INTO redo VALUES (5, 2)",
    # tables of one's own before those of the log
    "CREATE TEMPORARY TABLE entry (id bigint, kind text)",
    "CREATE TEMPORARY TABLE trial_cut (entry bigint)",
    "CREATE FUNCTION pg_temp.fitlog_next(text) RETURNS bigint LANGUAGE sql AS 'SELECT 99::bigint'"
    "; SET search_path = pg_temp, {schema}; SET CONSTRAINTS ALL DEFERRED; " + ENTRY.format("cut"),
    "SET search_path = pg_temp, pg_catalog, {schema}; " + ENTRY.format("found"),
    "CREATE TABLE {schema}.own (id bigint)",
    "CREATE FUNCTION {schema}.fitlog_next(integer) RETURNS bigint LANGUAGE sql AS "
    "'SELECT 1::bigint'",
    "CREATE OR REPLACE FUNCTION fitlog_turn() RETURNS trigger LANGUAGE plpgsql AS "
    "'BEGIN RETURN NULL; END'",
    # rights
    "SET ROLE owner",
    "SET SESSION AUTHORIZATION owner",
    "SET session_replication_role = replica",
    "ALTER TABLE entry DISABLE TRIGGER USER",
    "DROP TRIGGER entry_whole ON entry",
    "ALTER TABLE entry ADD COLUMN x text",
    "CREATE TRIGGER x BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION fitlog_refuse('x')",
    "CREATE RULE x AS ON INSERT TO entry DO INSTEAD NOTHING",
    "UPDATE entry SET by = 'y'",
    "UPDATE fitlog_layout SET version = 9",
    "INSERT INTO fitlog_layout VALUES ('fitlog', 9)",
    "INSERT INTO fitlog_turn DEFAULT VALUES",
    "DELETE FROM entry",
    "DELETE FROM bit",
    "TRUNCATE entry CASCADE",
    "TRUNCATE fitlog_turn",
    "DROP TABLE fitlog_turn",
    "COPY entry (kind, setup, at, by) FROM STDIN",
    "COPY entry TO PROGRAM 'true'",
    "MERGE INTO entry USING (VALUES (1)) AS v (n) ON entry.id = v.n WHEN MATCHED THEN DELETE",
    "INSERT INTO entry SELECT * FROM entry ON CONFLICT (id) DO UPDATE SET by = 'y'",
]


@pytest.fixture
def attacked(log: tuple[Server, str, Roles], shop: Shop) -> tuple[Server, str, str]:
    """A log with a set-up of wren's; the statement that says all that is in its entries."""
    server, schema, _ = log
    url = server.url("wren", schema=schema)
    for line in ("start", "cut tight", "cut loose", "undo --yes"):
        shop.run("--db", url, *line.split())
    assert server.run(f"SELECT string_agg(kind, ' ' ORDER BY id) FROM {schema}.entry") == [
        ("start cut cut retract",)
    ]
    return server, schema, url


def test_a_writer_cannot_get_round_the_guards(
    attacked: tuple[Server, str, str], shop: Shop
) -> None:
    server, schema, url = attacked
    before = shop.run("log", "export", "--db", url).out
    taken = []
    for said in TRIES:
        statement = said.replace("{schema}", schema)
        with psycopg.connect(as_somebody(server, "wren", schema)) as plain:
            try:
                with plain.cursor() as cursor:
                    if statement.endswith("FROM STDIN"):
                        with cursor.copy(statement) as copy:
                            copy.write(f"cut\t1\t{AT[1:-1]}\tx\n")
                    else:
                        cursor.execute(statement)
                plain.commit()
                taken.append(statement)
            except psycopg.Error:
                plain.rollback()
    assert taken == []
    assert shop.run("log", "health", "--json", "--db", url).document["sound"]
    assert shop.run("log", "export", "--db", url).out == before
    assert shop.run("cut", "tight", "--json", "--db", url).document["setup"] == 1


def test_the_server_says_whose_role_wrote(attacked: tuple[Server, str, str], shop: Shop) -> None:
    server, schema, url = attacked
    with psycopg.connect(as_somebody(server, "wren", schema)) as plain:
        plain.execute(
            "INSERT INTO entry (kind, setup, at, by, role) VALUES "
            f"('choose', 1, {AT}, 'jay', 'owner')"
        )
    shop.run("use", "1", "--db", url, env={"LOGNAME": "somebody"})
    found = server.run(f"SELECT DISTINCT role FROM {schema}.entry")
    assert found == [("wren",)]


def test_a_temporary_table_of_the_owner_hides_no_table_from_a_guard(
    server: Server, shop: Shop
) -> None:
    """Who may make temporary tables, such as the owner, still meets the guards of the log."""
    place = stocked(shop, server.place())
    shop.run("--db", place, "start")
    schema = place.rsplit("=", 1)[1]
    with psycopg.connect(as_somebody(server, "owner", schema), autocommit=True) as plain:
        for table in ("entry", "setup", "trial_cut", "advice", "redo"):
            plain.execute(f"CREATE TEMPORARY TABLE {table} AS SELECT * FROM {schema}.{table}")
        plain.execute("UPDATE pg_temp.entry SET kind = 'cut'")  # as the guards would like it
        plain.execute("INSERT INTO pg_temp.trial_cut (entry) VALUES (2)")
        for statement in (
            ENTRY.format("cut").replace("entry", f"{schema}.entry", 1),
            f"INSERT INTO {schema}.trial_cut SELECT 1, 1, 1, settings, '', NULL, '', '', '', '{{}}'"
            f", 0, NULL FROM {schema}.setup",
        ):
            with pytest.raises(psycopg.errors.IntegrityConstraintViolation):
                plain.execute(statement)
