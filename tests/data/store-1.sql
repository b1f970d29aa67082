BEGIN TRANSACTION;
CREATE TABLE answers (
	draft_id VARCHAR NOT NULL, 
	position INTEGER NOT NULL, 
	answer TEXT NOT NULL, 
	final BOOLEAN NOT NULL, 
	PRIMARY KEY (draft_id, position), 
	FOREIGN KEY(draft_id) REFERENCES drafts (draft_id) ON DELETE CASCADE
);
CREATE TABLE codes (
	hand_id VARCHAR NOT NULL, 
	hash VARCHAR NOT NULL, 
	expires BIGINT NOT NULL, 
	PRIMARY KEY (hand_id)
);
CREATE TABLE drafts (
	draft_id VARCHAR NOT NULL, 
	owner VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	subject VARCHAR NOT NULL, 
	body TEXT NOT NULL, 
	opened VARCHAR NOT NULL, 
	touched VARCHAR NOT NULL, 
	PRIMARY KEY (draft_id)
);
CREATE TABLE evidence (
	record_id VARCHAR NOT NULL, 
	competency VARCHAR NOT NULL, 
	hand VARCHAR NOT NULL, 
	part VARCHAR NOT NULL, 
	effect VARCHAR NOT NULL, 
	day VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	"by" VARCHAR NOT NULL, 
	PRIMARY KEY (record_id, competency)
);
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4244','set-slips','h1','knowledge','pass','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',5,'h1');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4245','pull-slips','h1','practical','fail','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',6,'obs');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4245','set-slips','h1','practical','pass','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',6,'obs');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4246','pull-slips','h1','','down','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',7,'obs');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4247','set-slips','h2','tailgate','pass','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',8,'drl');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4248','set-slips','h2','outside-practical','pass','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',9,'bb');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f4249','set-slips','h2','','down','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',10,'console');
INSERT INTO "evidence" VALUES('00000000-0000-7000-8000-0000000f424a','set-slips','h2','','up','2026-03-02','2026-03-02T06:00:00.000Z','RIG-7',11,'console');
CREATE TABLE heads (
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	hash VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	latest VARCHAR NOT NULL, 
	PRIMARY KEY (site)
);
INSERT INTO "heads" VALUES('RIG-7',14,'429690e6652924ad880aba64344f12734078283e338c3abc04d9b3de64561ad6','2026-03-02T06:00:00.000Z','2026-03-02T06:00:00.000Z');
CREATE TABLE meta (
	name VARCHAR NOT NULL, 
	value VARCHAR NOT NULL, 
	PRIMARY KEY (name)
);
INSERT INTO "meta" VALUES('schema','1');
INSERT INTO "meta" VALUES('site','RIG-7');
INSERT INTO "meta" VALUES('store_id','efaa68a8e3314ea3aa9805eda9fe6b7b');
CREATE TABLE people (
	hand_id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	language VARCHAR NOT NULL, 
	note TEXT NOT NULL, 
	PRIMARY KEY (hand_id)
);
INSERT INTO "people" VALUES('h1','Ana Bell','en','');
INSERT INTO "people" VALUES('h2','José Nguyễn','es','short service');
CREATE TABLE pins (
	hand_id VARCHAR NOT NULL, 
	hash VARCHAR NOT NULL, 
	set_at VARCHAR NOT NULL, 
	PRIMARY KEY (hand_id)
);
INSERT INTO "pins" VALUES('h1','$argon2id$v=19$m=19456,t=2,p=1$JzgqXjMBCcYa0HfUqzeagQ$cxc5HEwfxEoWt55vUq2RSG2StGhp1AlXbe+7eNGUXxI','2026-03-02T06:00:00.000Z');
CREATE TABLE records (
	record_id VARCHAR NOT NULL, 
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	at VARCHAR NOT NULL, 
	day VARCHAR NOT NULL, 
	"by" VARCHAR NOT NULL, 
	hand VARCHAR, 
	kind VARCHAR NOT NULL, 
	body TEXT NOT NULL, 
	prev VARCHAR NOT NULL, 
	hash VARCHAR NOT NULL, 
	PRIMARY KEY (record_id), 
	UNIQUE (site, seq)
);
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4240','RIG-7',1,'2026-03-02T06:00:00.000Z','2026-03-02','console',NULL,'site','{"site":{"crews":{"day-1":{"off":14,"on":14}},"outside_good_for":"P90D"},"tz":"America/Chicago","v":1}','0000000000000000000000000000000000000000000000000000000000000000','120ff6257f54c1747c2364fb0f7c7892b680f58d7e5213e5ff1ca710dc039009');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4241','RIG-7',2,'2026-03-02T06:00:00.000Z','2026-03-02','console',NULL,'key','{"public":"gzZgW_vsAlGXjYRZFHu-eWlkMEPFuTMF89gdz4CVJKA","v":1}','120ff6257f54c1747c2364fb0f7c7892b680f58d7e5213e5ff1ca710dc039009','57eb45cec8fc4261883ab651a1b79d8b94dc96396cf7d7d663269059384a654a');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4242','RIG-7',3,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','joined','{"crew":"day-1","position":"floorhand","v":1}','57eb45cec8fc4261883ab651a1b79d8b94dc96396cf7d7d663269059384a654a','c65312174f3c9707579e1efc459ed31aa5fe3edb14dd015bf81f0df003764ebb');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4243','RIG-7',4,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','moved','{"crew":"day-1","position":"derrickhand","v":1}','c65312174f3c9707579e1efc459ed31aa5fe3edb14dd015bf81f0df003764ebb','42baa49c3486b40de9b989457a7fb796734a0a5b600bee7ff919f823797a798b');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4244','RIG-7',5,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','quiz','{"answers":{"a":["x","y"],"b":{"spot":["t1"]},"c":null},"competency":"set-slips","content":"c0ffee","critical_missed":[],"cut":1,"items":["a:1"],"language":"es","options":{"a":["x","y"]},"parameters":{"a":{"depth":"12.5"}},"passed":true,"points":1,"quiz":"set-slips","read_aloud_by":null,"right":["a"],"seed":"s","started":"2026-03-02T06:00:00.000Z","v":1}','42baa49c3486b40de9b989457a7fb796734a0a5b600bee7ff919f823797a798b','f825bb88939da986c4e57a52eb103c27c6e5efa36f61f2b5ba4a887be3718458');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4245','RIG-7',6,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','observation','{"brake":"drl","checklist":"connections","conditions":{"light":"night"},"content":"c0ffee","entered":"2026-03-02","hand_present":"signed","held":"2026-03-01","note":null,"observer":"obs","outcomes":{"pull-slips":"not yet","set-slips":"clean"},"overall":"yes","purpose":"assessment","signatures":[{"at":"2026-03-02T06:00:00.000Z","hand":"obs","means":"watched","role":"observer"}],"steps":[{"note":null,"own_act":true,"state":"met","step":"see-hold"},{"note":"aa","own_act":false,"state":"not met","step":"clear"}],"stop_called":false,"tour":"18:00-06:00","v":1}','f825bb88939da986c4e57a52eb103c27c6e5efa36f61f2b5ba4a887be3718458','ce3e23a1ee613ad173f6b254e8a48e62473c2c4e95cc2e50146140ebfbe90803');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4246','RIG-7',7,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','stood-down','{"competency":"pull-slips","observation":"00000000-0000-7000-8000-0000000f4245","observer":"obs","v":1,"why":"aa"}','ce3e23a1ee613ad173f6b254e8a48e62473c2c4e95cc2e50146140ebfbe90803','c9361516de9593c4f29d776e95640e341211c6dedebf4775ee014129f854d3fc');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4247','RIG-7',8,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','tailgate','{"answers":{"q1":"x"},"competency":"set-slips","content":"","entered":"","form":null,"guests":[],"items":[],"job":null,"language":"","paper":false,"passed":true,"present":"throughout","right":[],"tailgate":"tg-1","topic":"where","tour":"","v":1,"vouched":"drl"}','c9361516de9593c4f29d776e95640e341211c6dedebf4775ee014129f854d3fc','829ae9061b34c8c781b73613fdeabce4907bff21598b90447c6847f089ab4982');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4248','RIG-7',9,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','outside','{"competency":"set-slips","note":null,"observer":"bb","outcome":"pass","part":"outside-practical","v":1}','829ae9061b34c8c781b73613fdeabce4907bff21598b90447c6847f089ab4982','20537a665610ff7515a5354bb22d7ce16c2f62b7b8bb1f1c4bfbcf54d00bc6aa');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4249','RIG-7',10,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','stood-down','{"competency":"set-slips","observation":null,"observer":null,"v":1,"why":"cc"}','20537a665610ff7515a5354bb22d7ce16c2f62b7b8bb1f1c4bfbcf54d00bc6aa','4bbec2667eaad93e70d9f65df320b20e2f985c3114e8934233c739d5af6bc6e7');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424a','RIG-7',11,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','reinstated','{"competency":"set-slips","done":"dd","observer":null,"second":null,"v":1}','4bbec2667eaad93e70d9f65df320b20e2f985c3114e8934233c739d5af6bc6e7','727ebcdcdb0e286865dfcae1a88b51900b954f278db916ea154a20b2656ea554');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424b','RIG-7',12,'2026-03-02T06:00:00.000Z','2026-03-02','console','h3','observation','{"brake":"drl","checklist":"connections","conditions":{"light":"night"},"content":"c0ffee","entered":"2026-03-02","hand_present":"signed","held":"2026-03-01","note":null,"observer":"obs","outcomes":{"set-slips":"clean"},"overall":"yes","purpose":"assessment","signatures":[{"at":"2026-03-02T06:00:00.000Z","hand":"obs","means":"watched","role":"observer"}],"steps":[{"note":null,"own_act":true,"state":"met","step":"see-hold"},{"note":"aa","own_act":false,"state":"not met","step":"clear"}],"stop_called":false,"tour":"18:00-06:00","v":1}','727ebcdcdb0e286865dfcae1a88b51900b954f278db916ea154a20b2656ea554','bdae2fa108b2a44712601d50818b592f58830a94eef10c46b408fa7ca93a1aae');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424c','RIG-7',13,'2026-03-02T06:00:00.000Z','2026-03-02','console','h3','stood-down','{"competency":"set-slips","observation":"00000000-0000-7000-8000-0000000f424b","observer":null,"v":1,"why":null}','bdae2fa108b2a44712601d50818b592f58830a94eef10c46b408fa7ca93a1aae','3f9c447027618b02e7b5973bcdc2d50de8942dd16c13e5a086f4640aeae32c02');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424d','RIG-7',14,'2026-03-02T06:00:00.000Z','2026-03-02','console','h3','void','{"record":"00000000-0000-7000-8000-0000000f424b","second":null,"v":1,"why":"ee"}','3f9c447027618b02e7b5973bcdc2d50de8942dd16c13e5a086f4640aeae32c02','429690e6652924ad880aba64344f12734078283e338c3abc04d9b3de64561ad6');
CREATE TABLE sessions (
	id_hash VARCHAR NOT NULL, 
	hand VARCHAR NOT NULL, 
	device VARCHAR NOT NULL, 
	opened BIGINT NOT NULL, 
	seen BIGINT NOT NULL, 
	ended BIGINT, 
	why VARCHAR NOT NULL, 
	PRIMARY KEY (id_hash)
);
CREATE TABLE stays (
	record_id VARCHAR NOT NULL, 
	hand VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	day VARCHAR NOT NULL, 
	crew VARCHAR NOT NULL, 
	position VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (record_id)
);
INSERT INTO "stays" VALUES('00000000-0000-7000-8000-0000000f4242','h1','joined','2026-03-02','day-1','floorhand','2026-03-02T06:00:00.000Z','RIG-7',3);
INSERT INTO "stays" VALUES('00000000-0000-7000-8000-0000000f4243','h1','moved','2026-03-02','day-1','derrickhand','2026-03-02T06:00:00.000Z','RIG-7',4);
CREATE TABLE texts (
	"key" VARCHAR NOT NULL, 
	salt VARCHAR NOT NULL, 
	text TEXT NOT NULL, 
	hand VARCHAR NOT NULL, 
	PRIMARY KEY ("key")
);
INSERT INTO "texts" VALUES('fc81184100deefff92aa8737f54afb4c18b4722118e3f9eaea282f3308f2b583','fdf9eb90300fc60da7b86e0b53931294fd8661f37bb26cfd0c09ec445b8effa0','slips crooked','h1');
CREATE TABLE tickets (
	ticket_hash VARCHAR NOT NULL, 
	session VARCHAR NOT NULL, 
	expires BIGINT NOT NULL, 
	PRIMARY KEY (ticket_hash), 
	FOREIGN KEY(session) REFERENCES sessions (id_hash) ON DELETE CASCADE
);
CREATE TABLE tries (
	hand VARCHAR NOT NULL, 
	device VARCHAR NOT NULL, 
	failed INTEGER NOT NULL, 
	last BIGINT NOT NULL, 
	until BIGINT NOT NULL, 
	PRIMARY KEY (hand, device)
);
CREATE TABLE views (
	owner VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	body TEXT NOT NULL, 
	PRIMARY KEY (owner, name)
);
CREATE TABLE voids (
	record_id VARCHAR NOT NULL, 
	void_id VARCHAR NOT NULL, 
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (record_id)
);
INSERT INTO "voids" VALUES('00000000-0000-7000-8000-0000000f424b','00000000-0000-7000-8000-0000000f424d','RIG-7',14);
INSERT INTO "voids" VALUES('00000000-0000-7000-8000-0000000f424c','00000000-0000-7000-8000-0000000f424d','RIG-7',14);
CREATE INDEX records_by_kind ON records (kind, site, seq);
CREATE INDEX records_by_hand ON records (hand, kind);
CREATE INDEX evidence_by_seq ON evidence (site, seq);
CREATE INDEX evidence_by_hand ON evidence (hand);
CREATE INDEX stays_by_hand ON stays (hand);
CREATE INDEX texts_by_hand ON texts (hand);
CREATE INDEX drafts_by_owner ON drafts (owner, kind);
CREATE INDEX sessions_by_hand ON sessions (hand);
CREATE TRIGGER records_no_update BEFORE UPDATE ON records BEGIN SELECT RAISE(ABORT, 'records are never changed'); END;
CREATE TRIGGER records_no_delete BEFORE DELETE ON records BEGIN SELECT RAISE(ABORT, 'records are never changed'); END;
COMMIT;
