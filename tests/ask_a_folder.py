"""Reads a folder of logs with DuckDB, as DEVELOPERS.md shows: who took how many readings with which instrument.

    python3 tests/ask_a_folder.py FOLDER        (pip install duckdb)

Exit 77: DuckDB is not installed here.
"""
import sys

try:
    import duckdb
except ImportError:
    sys.exit(77)

QUERY = """
SELECT filename, a AS by, d->>'$.instrument' AS instrument, count(*) AS readings
FROM read_ndjson($folder || '/*.jsonl', columns = {n: 'UBIGINT', t: 'TIMESTAMPTZ', k: 'VARCHAR', a: 'VARCHAR', d: 'JSON'},
                 filename = true, maximum_object_size = 65536)
WHERE k = 'entry.add' AND d->>'$.instrument' IS NOT NULL
GROUP BY ALL ORDER BY ALL
"""
for row in duckdb.execute(QUERY, {"folder": sys.argv[1]}).fetchall():
    print(*row, sep="\t")
