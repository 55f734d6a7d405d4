BEGIN TRANSACTION;
CREATE TABLE "conflict" (
	id VARCHAR(40) NOT NULL, 
	job VARCHAR(40) NOT NULL, 
	path VARCHAR(200) NOT NULL, 
	theirs TEXT NOT NULL, 
	mine TEXT NOT NULL, 
	device VARCHAR(40) NOT NULL, 
	found_at VARCHAR(32) NOT NULL, 
	settled_at VARCHAR(32), 
	kept VARCHAR(10), 
	PRIMARY KEY (id), 
	FOREIGN KEY(job) REFERENCES job (id) ON DELETE CASCADE
);
INSERT INTO "conflict" VALUES('e2.0','j1','readings.tapes[start=A,end=B].reads','"53 1/2"','"53 3/4"','p2','2026-11-25T08:00:00Z',NULL,NULL);
CREATE TABLE device (
	id VARCHAR(40) NOT NULL, 
	name VARCHAR(120) NOT NULL, 
	token_hash VARCHAR(64), 
	paired_at VARCHAR(32) NOT NULL, 
	revoked_at VARCHAR(32), 
	PRIMARY KEY (id), 
	UNIQUE (token_hash)
);
CREATE TABLE entry (
	id VARCHAR(40) NOT NULL, 
	job VARCHAR(40) NOT NULL, 
	revision INTEGER NOT NULL, 
	device VARCHAR(40) NOT NULL, 
	received_at VARCHAR(32) NOT NULL, 
	change TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job, revision) REFERENCES revision (job, number) ON DELETE CASCADE
);
INSERT INTO "entry" VALUES('e1','j1',2,'p1','2026-11-25T08:00:00Z','{"base": 1, "typed_at": "", "changes": [{"path": "readings.tapes[start=A,end=B].reads", "value": "53 1/2"}]}');
INSERT INTO "entry" VALUES('e2','j1',2,'p2','2026-11-25T08:00:00Z','{"base": 1, "typed_at": "", "changes": [{"path": "readings.tapes[start=A,end=B].reads", "value": "53 3/4"}]}');
CREATE TABLE issued (
	id VARCHAR(40) NOT NULL, 
	job VARCHAR(40) NOT NULL, 
	revision INTEGER NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	number VARCHAR(40) NOT NULL, 
	issued_at VARCHAR(32) NOT NULL, 
	data TEXT NOT NULL, 
	paper BLOB NOT NULL, 
	sha256 VARCHAR(64) NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job) REFERENCES job (id) ON DELETE CASCADE, 
	UNIQUE (number)
);
CREATE TABLE job (
	id VARCHAR(40) NOT NULL, 
	begun_at VARCHAR(32) NOT NULL, 
	head INTEGER NOT NULL, 
	title VARCHAR(400) NOT NULL, 
	customer VARCHAR(400) NOT NULL, 
	place VARCHAR(400) NOT NULL, 
	state VARCHAR(40) NOT NULL, 
	next_visit VARCHAR(32), 
	changed_at VARCHAR(32) NOT NULL, 
	deleted_at VARCHAR(32), 
	search TEXT DEFAULT '' NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "job" VALUES('j1','2026-11-25T08:00:00Z',2,'Étang Mill, north stack','Ö. Quist','3 Mill Row','asked',NULL,'2026-11-25T08:00:00Z',NULL,'étang mill, north stack ö. quist 3 mill row');
INSERT INTO "job" VALUES('j2','2026-11-25T08:00:00Z',1,'Heron Lane','','','asked',NULL,'2026-11-25T08:00:00Z',NULL,'heron lane  ');
CREATE TABLE photo (
	id VARCHAR(40) NOT NULL, 
	job VARCHAR(40) NOT NULL, 
	added_at VARCHAR(32) NOT NULL, 
	taken_at VARCHAR(32), 
	name VARCHAR(200) NOT NULL, 
	note TEXT NOT NULL, 
	where_x VARCHAR(32), 
	where_y VARCHAR(32), 
	original BLOB NOT NULL, 
	upright BLOB NOT NULL, 
	thumbnail BLOB NOT NULL, 
	printed BLOB, 
	sha256 VARCHAR(64) NOT NULL, 
	deleted_at VARCHAR(32), 
	PRIMARY KEY (id), 
	CONSTRAINT photo_once UNIQUE (job, sha256), 
	FOREIGN KEY(job) REFERENCES job (id) ON DELETE CASCADE
);
CREATE TABLE revision (
	job VARCHAR(40) NOT NULL, 
	number INTEGER NOT NULL, 
	made_at VARCHAR(32) NOT NULL, 
	who VARCHAR(120) NOT NULL, 
	device VARCHAR(40) NOT NULL, 
	what VARCHAR(400) NOT NULL, 
	restores INTEGER, 
	text TEXT NOT NULL, 
	state VARCHAR(40), 
	next_visit VARCHAR(32), 
	PRIMARY KEY (job, number), 
	FOREIGN KEY(job) REFERENCES job (id) ON DELETE CASCADE
);
INSERT INTO "revision" VALUES('j1',1,'2026-11-25T08:00:00Z','Ansel','p1','begun',NULL,'title = "Étang Mill, north stack"
customer = "Ö. Quist"
place = "3 Mill Row"

[readings]
corners = ["A", "B", "C", "D"]
masonry = "rubble stone"
','asked',NULL);
INSERT INTO "revision" VALUES('j2',1,'2026-11-25T08:00:00Z','Ansel','p1','begun',NULL,'title = "Heron Lane"

[quick]
masonry = "rubble stone"
','asked',NULL);
INSERT INTO "revision" VALUES('j1',2,'2026-11-25T08:00:00Z','Ansel','p1','tape AB: 53 1/2',NULL,'title = "Étang Mill, north stack"
customer = "Ö. Quist"
place = "3 Mill Row"

[readings]
corners = ["A", "B", "C", "D"]
masonry = "rubble stone"
tapes = [
  { start = "A", end = "B", reads = "53 1/2" },
]
','asked',NULL);
CREATE TABLE shelf (
	place VARCHAR(80) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	put_at VARCHAR(32) NOT NULL, 
	data BLOB NOT NULL, 
	PRIMARY KEY (place)
);
CREATE TABLE step (
	name VARCHAR(80) NOT NULL, 
	done_at VARCHAR(32) NOT NULL, 
	PRIMARY KEY (name)
);
INSERT INTO "step" VALUES('2026-11 first tables','2026-11-25T08:00:00Z');
INSERT INTO "step" VALUES('2026-11 words to search by','2026-11-25T08:00:00Z');
INSERT INTO "step" VALUES('2026-11 a shelf','2026-11-25T08:00:00Z');
INSERT INTO "step" VALUES('2026-11 work in revisions','2026-11-25T08:00:00Z');
INSERT INTO "step" VALUES('2026-11 photos for print','2026-11-25T08:00:00Z');
CREATE INDEX job_by_change ON job (deleted_at, changed_at);
CREATE INDEX job_by_visit ON job (deleted_at, next_visit);
COMMIT;
