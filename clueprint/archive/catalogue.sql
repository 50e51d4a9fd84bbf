-- The catalogue of an archive: DIR/catalogue.sqlite. Only `clueprint archive` writes it; read it while that runs.
-- File names in `puzzles` are relative to DIR; times are UTC, ISO 8601.

-- One run of the command each.
CREATE TABLE runs (
  run         INTEGER PRIMARY KEY,
  started     TEXT NOT NULL,
  ended       TEXT,                 -- NULL while it runs, and for good where it was killed
  outcome     TEXT CHECK (outcome IN ('finished', 'stopped')),
  version     TEXT NOT NULL,        -- of the program
  house_style TEXT NOT NULL,        -- SHA-256 of the house style file; '' for none
  workers     INTEGER NOT NULL,
  scheduler   TEXT                  -- address of the workers' scheduler; NULL for workers on the same machine
);

-- One file each, by its absolute path. Two files of the same content are two sources and are read once.
CREATE TABLE sources (
  source      INTEGER PRIMARY KEY,
  path        TEXT NOT NULL,        -- bytes of it that are no UTF-8 as \xNN
  raw         BLOB NOT NULL,        -- the same in bytes where there are such; else empty
  named       TEXT NOT NULL,        -- as it was named when it was last archived
  place       TEXT NOT NULL UNIQUE COLLATE NOCASE,  -- what the names of its files begin with: its folders and stem
  size        INTEGER,              -- bytes, and when content and anything else last changed, in ns since 1970;
  modified    INTEGER,              --   NULL where it is not there
  changed     INTEGER,
  known       INTEGER NOT NULL,     -- 1: sha256 and pages are those of the file of this size and these times
  sha256      TEXT,                 -- of its content; NULL until it was looked at, and where it cannot be read
  pages       INTEGER,
  run         INTEGER NOT NULL REFERENCES runs,  -- the last that named it
  UNIQUE (path, raw)
);
CREATE INDEX sources_by_content ON sources (sha256);
CREATE INDEX sources_by_run ON sources (run);

-- One page each that was read, whatever was on it, by the content of its file.
CREATE TABLE pages (
  page_id     INTEGER PRIMARY KEY,
  sha256      TEXT NOT NULL,
  page        INTEGER NOT NULL,     -- from 1
  source      INTEGER NOT NULL REFERENCES sources,  -- whose place its files have
  version     TEXT NOT NULL,        -- by which program and house style it was read
  house_style TEXT NOT NULL,
  again       INTEGER NOT NULL,     -- 1: to be read again, as `--again all` asked
  seconds     REAL NOT NULL,        -- that reading it took
  run         INTEGER NOT NULL REFERENCES runs,
  UNIQUE (sha256, page)
);
CREATE INDEX pages_by_source ON pages (source);

-- One grid each.
CREATE TABLE puzzles (
  puzzle_id   INTEGER PRIMARY KEY,
  page_id     INTEGER NOT NULL REFERENCES pages ON DELETE CASCADE,
  number      INTEGER NOT NULL,     -- on its page, from the top
  puzzle      TEXT,                 -- its files; NULL when faulty
  reading     TEXT NOT NULL,
  verdict     TEXT NOT NULL CHECK (verdict IN ('clean', 'query', 'faulty')),
  title       TEXT,
  setter      TEXT,
  rows        INTEGER,
  columns     INTEGER,
  likeness    TEXT,                 -- the same for puzzles with the same grid, givens and constraints
  puzzle_sha256  TEXT,              -- of the files as written: another one means that somebody edited them
  reading_sha256 TEXT NOT NULL,
  UNIQUE (page_id, number)
);
CREATE INDEX puzzles_by_likeness ON puzzles (likeness);
CREATE INDEX puzzles_by_verdict ON puzzles (verdict);

-- The kinds of constraint in each puzzle.
CREATE TABLE puzzle_kinds (
  puzzle_id   INTEGER NOT NULL REFERENCES puzzles ON DELETE CASCADE,
  kind        TEXT NOT NULL,
  PRIMARY KEY (puzzle_id, kind)
) WITHOUT ROWID;
CREATE INDEX puzzle_kinds_by_kind ON puzzle_kinds (kind);

-- What a person must look at, as the readings had it when they were written.
CREATE TABLE queries (
  query_id    INTEGER PRIMARY KEY,
  puzzle_id   INTEGER NOT NULL REFERENCES puzzles ON DELETE CASCADE,
  item        TEXT,                 -- JSON Pointer into the puzzle file; NULL for a place or the whole puzzle
  place       TEXT,                 -- JSON: the polygon on the page
  why         TEXT NOT NULL
);
CREATE INDEX queries_by_puzzle ON queries (puzzle_id);

-- What could not be read: a source as a whole, or a page of it.
CREATE TABLE failures (
  failure     INTEGER PRIMARY KEY,
  source      INTEGER NOT NULL REFERENCES sources,
  sha256      TEXT,                 -- of the content that a page is of
  page        INTEGER,              -- NULL for the source as a whole
  why         TEXT NOT NULL,
  remedy      TEXT NOT NULL,
  attempts    INTEGER NOT NULL,
  set_aside   INTEGER NOT NULL,     -- 1: not tried again before the file, the program or the house style changes, or
                                    --   `--again failures` asks for it
  version     TEXT NOT NULL,
  house_style TEXT NOT NULL,
  run         INTEGER NOT NULL REFERENCES runs
);
CREATE UNIQUE INDEX failures_by_place ON failures (source, ifnull(page, 0));
CREATE INDEX failures_by_content ON failures (sha256);

-- Everything about a puzzle in one line; a content that stands under several names has a line for each.
CREATE VIEW every_puzzle AS
SELECT s.path, s.named, p.page, z.number, z.verdict, z.title, z.setter, z.rows, z.columns,
  (SELECT count(*) FROM queries q WHERE q.puzzle_id = z.puzzle_id) AS queries,
  (SELECT group_concat(kind, ' ') FROM puzzle_kinds k WHERE k.puzzle_id = z.puzzle_id) AS kinds,
  z.puzzle, z.reading, z.likeness, z.puzzle_id, s.source
FROM puzzles z JOIN pages p USING (page_id) JOIN sources s ON s.sha256 = p.sha256 AND s.known;

CREATE VIEW to_look_at AS
SELECT s.path, p.page, z.number, z.verdict, z.puzzle, z.reading, q.item, q.place, q.why
FROM puzzles z JOIN pages p USING (page_id) JOIN sources s ON s.source = p.source
  LEFT JOIN queries q USING (puzzle_id)
WHERE z.verdict <> 'clean'
ORDER BY s.path, p.page, z.number, q.query_id;

CREATE VIEW by_verdict AS
SELECT verdict, count(*) AS puzzles FROM puzzles GROUP BY verdict;

CREATE VIEW by_kind AS
SELECT kind, count(*) AS puzzles, sum(verdict = 'clean') AS clean, sum(verdict = 'query') AS to_look_at
FROM puzzle_kinds JOIN puzzles USING (puzzle_id) GROUP BY kind ORDER BY puzzles DESC, kind;

-- The same puzzle printed more than once: one line for each time.
CREATE VIEW duplicates AS
SELECT z.likeness, s.path, p.page, z.number, z.title, z.verdict, z.puzzle
FROM puzzles z JOIN pages p USING (page_id) JOIN sources s ON s.source = p.source
WHERE z.likeness IN (SELECT likeness FROM puzzles GROUP BY likeness HAVING count(*) > 1)
ORDER BY z.likeness, s.path, p.page, z.number;

CREATE VIEW pages_without_puzzle AS
SELECT s.path, p.page FROM pages p JOIN sources s ON s.source = p.source
WHERE NOT EXISTS (SELECT 1 FROM puzzles z WHERE z.page_id = p.page_id)
ORDER BY s.path, p.page;
