"""Schema 2 as it was released: mails to suppliers, dates told in words alone, how a maker's sheet was read."""

SCHEMA_2 = (
    """
CREATE TABLE fact_2 (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    entry INTEGER NOT NULL,
    "on" DATE NOT NULL,
    kind VARCHAR NOT NULL,
    logged DATE NOT NULL,
    job VARCHAR,
    shipment VARCHAR,
    supplier VARCHAR,
    what VARCHAR NOT NULL,
    day DATE,
    first DATE,
    worst DATE,
    means VARCHAR,
    exactly BOOLEAN NOT NULL,
    words VARCHAR NOT NULL,
    good INTEGER,
    rework INTEGER,
    scrap INTEGER,
    count INTEGER,
    quantity INTEGER,
    ref VARCHAR NOT NULL,
    closes BOOLEAN NOT NULL,
    note VARCHAR NOT NULL,
    CONSTRAINT "fact on is a date" CHECK (date("on", '+0 days') IS "on"),
    CONSTRAINT "fact logged is a date" CHECK (date("logged", '+0 days') IS "logged"),
    CONSTRAINT "fact day is a date" CHECK (date("day", '+0 days') IS "day"),
    CONSTRAINT "fact first is a date" CHECK (date("first", '+0 days') IS "first"),
    CONSTRAINT "fact worst is a date" CHECK (date("worst", '+0 days') IS "worst"),
    CONSTRAINT "fact good is 0 or more" CHECK ("good" IS NULL OR (typeof("good") = 'integer' AND "good" >= 0)),
    CONSTRAINT "fact rework is 0 or more" CHECK ("rework" IS NULL OR (typeof("rework") = 'integer' AND "rework" >= 0)),
    CONSTRAINT "fact scrap is 0 or more" CHECK ("scrap" IS NULL OR (typeof("scrap") = 'integer' AND "scrap" >= 0)),
    CONSTRAINT "fact count is 0 or more" CHECK ("count" IS NULL OR (typeof("count") = 'integer' AND "count" >= 0)),
    CONSTRAINT "fact exactly is yes or no" CHECK ("exactly" IS NULL OR ("exactly" IN (0, 1))),
    CONSTRAINT "fact closes is yes or no" CHECK ("closes" IS NULL OR ("closes" IN (0, 1))),
    CONSTRAINT "fact: kind is a known one" CHECK ("kind" IS NULL OR "kind" IN ('ordered', 'given', 'started', 'promised', 'made', 'left', 'in', 'sorted', 'finished', 'passed', 'failed', 'paused', 'resumed', 'called_off', 'posted', 'told', 'decided', 'called', 'note', 'mailed')),
    CONSTRAINT "fact: a fact names the job, shipment or supplier its kind needs" CHECK (CASE WHEN "kind" IS NULL OR "kind" IN ('ordered', 'given', 'started', 'promised', 'made', 'left', 'in', 'sorted', 'finished', 'passed', 'failed', 'paused', 'resumed', 'called_off') THEN job IS NOT NULL AND shipment IS NULL AND supplier IS NULL WHEN "kind" IS NULL OR "kind" IN ('posted', 'told') THEN shipment IS NOT NULL AND job IS NULL AND supplier IS NULL WHEN kind = 'called' THEN supplier IS NOT NULL AND shipment IS NULL WHEN kind = 'mailed' THEN supplier IS NOT NULL AND job IS NULL AND shipment IS NULL ELSE 1 END),
    CONSTRAINT "fact: something known is given" CHECK (kind <> 'given' OR "what" IS NULL OR "what" IN ('order', 'payment', 'drawing', 'proof', 'material', 'balance', 'papers', 'day1')),
    CONSTRAINT "fact: a promise and a day 1 have a day" CHECK (NOT (kind = 'promised' OR what = 'day1') OR day IS NOT NULL),
    CONSTRAINT "fact: what was told has a day or words" CHECK (kind <> 'told' OR day IS NOT NULL OR words <> ''),
    CONSTRAINT "fact: the first day is not after the last" CHECK ("first" IS NULL OR "first" <= day),
    CONSTRAINT "fact: it is logged on the day it happened or later" CHECK ("on" <= logged),
    CONSTRAINT "fact: dates mean in hand or leaves" CHECK ("means" IS NULL OR "means" IN ('in hand', 'leaves')),
    CONSTRAINT "fact: quantity is 1 or more" CHECK (quantity IS NULL OR (typeof(quantity) = 'integer' AND quantity > 0)),
    FOREIGN KEY(entry) REFERENCES entry (number),
    FOREIGN KEY(job) REFERENCES job (code),
    FOREIGN KEY(shipment) REFERENCES shipment (code),
    FOREIGN KEY(supplier) REFERENCES supplier (code)
)
""",
    """INSERT INTO fact_2 SELECT * FROM fact""",
    """UPDATE sqlite_sequence SET seq = (SELECT seq FROM sqlite_sequence WHERE name = 'fact') WHERE name = 'fact_2'""",
    """INSERT INTO sqlite_sequence (name, seq)
    SELECT 'fact_2', seq FROM sqlite_sequence
    WHERE name = 'fact' AND NOT EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = 'fact_2')""",
    """DROP TABLE fact""",
    """ALTER TABLE fact_2 RENAME TO fact""",
    """
CREATE TABLE sheet_reading (
    headings VARCHAR NOT NULL,
    roles VARCHAR NOT NULL,
    PRIMARY KEY (headings),
    CONSTRAINT "sheet_reading headings is not empty" CHECK ("headings" <> ''),
    CONSTRAINT "sheet_reading: roles are words by heading" CHECK (json_valid(roles))
)
""",
)
