"""Schema 1 as it was released: literal, never edited."""

SCHEMA_1 = (
    """
CREATE TABLE entry (
    number INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    at VARCHAR NOT NULL,
    day DATE NOT NULL,
    command VARCHAR NOT NULL,
    undoes INTEGER,
    shipments VARCHAR NOT NULL,
    is_open BOOLEAN NOT NULL,
    CONSTRAINT "entry day is a date" CHECK (date("day", '+0 days') IS "day"),
    CONSTRAINT "entry is_open is yes or no" CHECK ("is_open" IS NULL OR ("is_open" IN (0, 1))),
    CONSTRAINT "entry at is not empty" CHECK ("at" <> ''),
    CONSTRAINT "entry command is not empty" CHECK ("command" <> ''),
    CONSTRAINT "entry: an entry undoes an earlier one" CHECK (undoes IS NULL OR undoes < number),
    CONSTRAINT "entry: shipments are dates by code" CHECK (json_valid(shipments)),
    FOREIGN KEY(undoes) REFERENCES entry (number)
)
""",
    """CREATE UNIQUE INDEX one_open_entry ON entry (is_open) WHERE is_open = 1""",
    """
CREATE TABLE public_holidays (
    place INTEGER NOT NULL,
    country VARCHAR NOT NULL,
    subdivision VARCHAR NOT NULL,
    first_year INTEGER NOT NULL,
    last_year INTEGER NOT NULL,
    days VARCHAR NOT NULL,
    PRIMARY KEY (place),
    CONSTRAINT "public_holidays place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "public_holidays: the first year is not after the last" CHECK (first_year <= last_year)
)
""",
    """
CREATE TABLE run (
    id INTEGER NOT NULL,
    code VARCHAR NOT NULL,
    product VARCHAR NOT NULL,
    quantity INTEGER NOT NULL,
    currency VARCHAR NOT NULL,
    start DATE NOT NULL,
    today DATE,
    dates VARCHAR,
    first_plan BOOLEAN NOT NULL,
    PRIMARY KEY (id),
    CONSTRAINT "run start is a date" CHECK (date("start", '+0 days') IS "start"),
    CONSTRAINT "run today is a date" CHECK (date("today", '+0 days') IS "today"),
    CONSTRAINT "run first_plan is yes or no" CHECK ("first_plan" IS NULL OR ("first_plan" IN (0, 1))),
    CONSTRAINT "run code is not empty" CHECK ("code" <> ''),
    CONSTRAINT "run: there is one run in a database" CHECK (id = 1),
    CONSTRAINT "run: quantity is 1 or more" CHECK (typeof(quantity) = 'integer' AND quantity > 0),
    CONSTRAINT "run: dates are read day first or month first" CHECK ("dates" IS NULL OR "dates" IN ('day first', 'month first'))
)
""",
    """
CREATE TABLE shipment (
    code VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    name VARCHAR NOT NULL,
    public_name VARCHAR NOT NULL,
    quantity INTEGER NOT NULL,
    PRIMARY KEY (code),
    CONSTRAINT "shipment place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "shipment code is not empty" CHECK ("code" <> ''),
    CONSTRAINT "shipment: quantity is 1 or more" CHECK (typeof(quantity) = 'integer' AND quantity > 0)
)
""",
    """
CREATE TABLE supplier (
    code VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    name VARCHAR NOT NULL,
    country VARCHAR NOT NULL,
    subdivision VARCHAR NOT NULL,
    workdays VARCHAR NOT NULL,
    dates_mean VARCHAR NOT NULL,
    bank VARCHAR NOT NULL,
    contact VARCHAR NOT NULL,
    public_name VARCHAR NOT NULL,
    inhouse BOOLEAN NOT NULL,
    PRIMARY KEY (code),
    CONSTRAINT "supplier place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "supplier inhouse is yes or no" CHECK ("inhouse" IS NULL OR ("inhouse" IN (0, 1))),
    CONSTRAINT "supplier bank is a number of days" CHECK ("bank" IS NULL OR ("bank" GLOB '[0-9]*[cw]d' AND substr("bank", 1, length("bank") - 2) NOT GLOB '*[^0-9]*')),
    CONSTRAINT "supplier code is not empty" CHECK ("code" <> ''),
    CONSTRAINT "supplier workdays is not empty" CHECK ("workdays" <> ''),
    CONSTRAINT "supplier: dates mean in hand or leaves" CHECK (dates_mean IN ('in hand', 'leaves'))
)
""",
    """
CREATE TABLE change (
    id INTEGER NOT NULL,
    entry INTEGER NOT NULL,
    table_name VARCHAR NOT NULL,
    "key" VARCHAR NOT NULL,
    "before" VARCHAR,
    "after" VARCHAR,
    PRIMARY KEY (id),
    CONSTRAINT "change: a row was there before or after" CHECK ("before" IS NOT NULL OR "after" IS NOT NULL),
    CONSTRAINT "change: rows are kept as objects" CHECK (("before" IS NULL OR json_valid("before")) AND ("after" IS NULL OR json_valid("after"))),
    FOREIGN KEY(entry) REFERENCES entry (number)
)
""",
    """CREATE INDEX change_by_entry ON change (entry)""",
    """
CREATE TABLE closure (
    supplier VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    first DATE NOT NULL,
    last DATE NOT NULL,
    why VARCHAR NOT NULL,
    PRIMARY KEY (supplier, place),
    CONSTRAINT "closure first is a date" CHECK (date("first", '+0 days') IS "first"),
    CONSTRAINT "closure last is a date" CHECK (date("last", '+0 days') IS "last"),
    CONSTRAINT "closure place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "closure: the first day is not after the last" CHECK ("first" <= "last"),
    FOREIGN KEY(supplier) REFERENCES supplier (code)
)
""",
    """
CREATE TABLE first_plan_shipment (
    shipment VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    day DATE NOT NULL,
    PRIMARY KEY (shipment),
    CONSTRAINT "first_plan_shipment day is a date" CHECK (date("day", '+0 days') IS "day"),
    CONSTRAINT "first_plan_shipment place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    FOREIGN KEY(shipment) REFERENCES shipment (code)
)
""",
    """
CREATE TABLE job (
    code VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    supplier VARCHAR NOT NULL,
    lead VARCHAR NOT NULL,
    name VARCHAR NOT NULL,
    public_name VARCHAR NOT NULL,
    process VARCHAR NOT NULL,
    said VARCHAR NOT NULL,
    quantity INTEGER,
    travel VARCHAR NOT NULL,
    not_before DATE,
    own_clock BOOLEAN NOT NULL,
    gate BOOLEAN NOT NULL,
    retry_of VARCHAR,
    PRIMARY KEY (code),
    CONSTRAINT "job not_before is a date" CHECK (date("not_before", '+0 days') IS "not_before"),
    CONSTRAINT "job place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "job own_clock is yes or no" CHECK ("own_clock" IS NULL OR ("own_clock" IN (0, 1))),
    CONSTRAINT "job gate is yes or no" CHECK ("gate" IS NULL OR ("gate" IN (0, 1))),
    CONSTRAINT "job travel is a number of days" CHECK ("travel" IS NULL OR ("travel" GLOB '[0-9]*[cw]d' AND substr("travel", 1, length("travel") - 2) NOT GLOB '*[^0-9]*')),
    CONSTRAINT "job code is not empty" CHECK ("code" <> ''),
    CONSTRAINT "job: the lead is days or a rate" CHECK (lead GLOB '[0-9]*[cw]d' OR (lead GLOB '{*}' AND json_valid(lead))),
    CONSTRAINT "job: quantity is 1 or more" CHECK (quantity IS NULL OR (typeof(quantity) = 'integer' AND quantity > 0)),
    CONSTRAINT "job: a job is not a retry of itself" CHECK (retry_of IS NULL OR retry_of <> code),
    FOREIGN KEY(supplier) REFERENCES supplier (code),
    FOREIGN KEY(retry_of) REFERENCES job (code) DEFERRABLE INITIALLY DEFERRED
)
""",
    """
CREATE TABLE open_day (
    supplier VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    day DATE NOT NULL,
    PRIMARY KEY (supplier, place),
    CONSTRAINT "open_day day is a date" CHECK (date("day", '+0 days') IS "day"),
    CONSTRAINT "open_day place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    FOREIGN KEY(supplier) REFERENCES supplier (code)
)
""",
    """
CREATE TABLE told (
    shipment VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    "on" DATE NOT NULL,
    first DATE,
    last DATE NOT NULL,
    words VARCHAR NOT NULL,
    PRIMARY KEY (shipment, place),
    CONSTRAINT "told on is a date" CHECK (date("on", '+0 days') IS "on"),
    CONSTRAINT "told first is a date" CHECK (date("first", '+0 days') IS "first"),
    CONSTRAINT "told last is a date" CHECK (date("last", '+0 days') IS "last"),
    CONSTRAINT "told place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "told: the first day is not after the last" CHECK ("first" IS NULL OR "first" <= "last"),
    FOREIGN KEY(shipment) REFERENCES shipment (code)
)
""",
    """
CREATE TABLE condition (
    job VARCHAR NOT NULL,
    stage VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    what VARCHAR NOT NULL,
    PRIMARY KEY (job, stage, place),
    CONSTRAINT "condition place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "condition: the stage is clock or leave" CHECK (stage IN ('clock', 'leave')),
    CONSTRAINT "condition: a clock waits for known things" CHECK (stage <> 'clock' OR "what" IS NULL OR "what" IN ('order', 'payment', 'drawing', 'proof', 'material')),
    CONSTRAINT "condition: leaving waits for known things" CHECK (stage <> 'leave' OR "what" IS NULL OR "what" IN ('balance', 'papers')),
    FOREIGN KEY(job) REFERENCES job (code)
)
""",
    """
CREATE TABLE fact (
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
    CONSTRAINT "fact: kind is a known one" CHECK ("kind" IS NULL OR "kind" IN ('ordered', 'given', 'started', 'promised', 'made', 'left', 'in', 'sorted', 'finished', 'passed', 'failed', 'paused', 'resumed', 'called_off', 'posted', 'told', 'decided', 'called', 'note')),
    CONSTRAINT "fact: a fact names the job, shipment or supplier its kind needs" CHECK (CASE WHEN "kind" IS NULL OR "kind" IN ('ordered', 'given', 'started', 'promised', 'made', 'left', 'in', 'sorted', 'finished', 'passed', 'failed', 'paused', 'resumed', 'called_off') THEN job IS NOT NULL AND shipment IS NULL AND supplier IS NULL WHEN "kind" IS NULL OR "kind" IN ('posted', 'told') THEN shipment IS NOT NULL AND job IS NULL AND supplier IS NULL WHEN kind = 'called' THEN supplier IS NOT NULL AND shipment IS NULL ELSE 1 END),
    CONSTRAINT "fact: something known is given" CHECK (kind <> 'given' OR "what" IS NULL OR "what" IN ('order', 'payment', 'drawing', 'proof', 'material', 'balance', 'papers', 'day1')),
    CONSTRAINT "fact: a promise and a day 1 have a day" CHECK (NOT (kind = 'promised' OR what = 'day1') OR day IS NOT NULL),
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
    """
CREATE TABLE first_plan_job (
    job VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    start DATE NOT NULL,
    finish DATE NOT NULL,
    arrives DATE NOT NULL,
    PRIMARY KEY (job),
    CONSTRAINT "first_plan_job start is a date" CHECK (date("start", '+0 days') IS "start"),
    CONSTRAINT "first_plan_job finish is a date" CHECK (date("finish", '+0 days') IS "finish"),
    CONSTRAINT "first_plan_job arrives is a date" CHECK (date("arrives", '+0 days') IS "arrives"),
    CONSTRAINT "first_plan_job place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    FOREIGN KEY(job) REFERENCES job (code)
)
""",
    """
CREATE TABLE link (
    job VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    after_job VARCHAR NOT NULL,
    kind VARCHAR NOT NULL,
    lag VARCHAR NOT NULL,
    outcome VARCHAR NOT NULL,
    PRIMARY KEY (job, place),
    CONSTRAINT "link place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    CONSTRAINT "link lag is a number of days" CHECK ("lag" IS NULL OR ("lag" GLOB '[0-9]*[cw]d' AND substr("lag", 1, length("lag") - 2) NOT GLOB '*[^0-9]*')),
    CONSTRAINT "link: a job does not wait for itself" CHECK (after_job <> job),
    CONSTRAINT "link: kind is finish-start, start-start or finish-finish" CHECK (kind IN ('finish-start', 'start-start', 'finish-finish')),
    CONSTRAINT "link: the outcome is pass or fail" CHECK (outcome IN ('pass', 'fail')),
    FOREIGN KEY(job) REFERENCES job (code),
    FOREIGN KEY(after_job) REFERENCES job (code)
)
""",
    """
CREATE TABLE shipment_after (
    shipment VARCHAR NOT NULL,
    place INTEGER NOT NULL,
    job VARCHAR NOT NULL,
    PRIMARY KEY (shipment, place),
    CONSTRAINT "shipment_after place is 0 or more" CHECK ("place" IS NULL OR (typeof("place") = 'integer' AND "place" >= 0)),
    FOREIGN KEY(shipment) REFERENCES shipment (code),
    FOREIGN KEY(job) REFERENCES job (code)
)
""",
)
