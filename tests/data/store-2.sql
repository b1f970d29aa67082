BEGIN TRANSACTION;
CREATE TABLE answers (
	draft_id VARCHAR NOT NULL, 
	position INTEGER NOT NULL, 
	answer TEXT NOT NULL, 
	final BOOLEAN NOT NULL, 
	PRIMARY KEY (draft_id, position), 
	FOREIGN KEY(draft_id) REFERENCES drafts (draft_id) ON DELETE CASCADE
);
CREATE TABLE aside (
	hash VARCHAR NOT NULL, 
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	record TEXT NOT NULL, 
	PRIMARY KEY (hash)
);
CREATE TABLE codes (
	hand_id VARCHAR NOT NULL, 
	hash VARCHAR NOT NULL, 
	expires BIGINT NOT NULL, 
	PRIMARY KEY (hand_id)
);
CREATE TABLE doubts (
	record_id VARCHAR NOT NULL, 
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	why VARCHAR NOT NULL, 
	PRIMARY KEY (record_id)
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
CREATE TABLE forks (
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	PRIMARY KEY (site)
);
CREATE TABLE heads (
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	hash VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	latest VARCHAR NOT NULL, 
	PRIMARY KEY (site)
);
INSERT INTO "heads" VALUES('RIG-7',14,'5a60b77b708dfd11fc104f66ae2a53fcd682a609f4adca89e603fe86402eccb4','2026-03-02T06:00:00.000Z','2026-03-02T06:00:00.000Z');
CREATE TABLE kept_heads (
	site VARCHAR NOT NULL, 
	seq INTEGER NOT NULL, 
	hash VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	signature VARCHAR NOT NULL, 
	PRIMARY KEY (site, seq, hash)
);
CREATE TABLE meta (
	name VARCHAR NOT NULL, 
	value VARCHAR NOT NULL, 
	PRIMARY KEY (name)
);
INSERT INTO "meta" VALUES('schema','2');
INSERT INTO "meta" VALUES('site','RIG-7');
INSERT INTO "meta" VALUES('store_id','3feca92c8cfa498bbcd839943b37b9fa');
CREATE TABLE people (
	hand_id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	language VARCHAR NOT NULL, 
	note TEXT NOT NULL, 
	at VARCHAR DEFAULT '' NOT NULL, 
	PRIMARY KEY (hand_id)
);
INSERT INTO "people" VALUES('h2','José Nguyễn','es','short service','');
CREATE TABLE pins (
	hand_id VARCHAR NOT NULL, 
	hash VARCHAR NOT NULL, 
	set_at VARCHAR NOT NULL, 
	PRIMARY KEY (hand_id)
);
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
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4241','RIG-7',2,'2026-03-02T06:00:00.000Z','2026-03-02','console',NULL,'key','{"public":"vgegvC91NsI6Or9xUjb8NO-KUD5mjxQx9iG_9ucwwak","v":1}','120ff6257f54c1747c2364fb0f7c7892b680f58d7e5213e5ff1ca710dc039009','377bf83dc4575e33260dfbbb8f062257179e2406057ac0b42fcc341aa581110b');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4242','RIG-7',3,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','joined','{"crew":"day-1","position":"floorhand","v":1}','377bf83dc4575e33260dfbbb8f062257179e2406057ac0b42fcc341aa581110b','8f833a9eb19704ad1742ac5d429ce69e4ab98ee7545b1f87bd3ce75d4a397cbd');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4243','RIG-7',4,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','moved','{"crew":"day-1","position":"derrickhand","v":1}','8f833a9eb19704ad1742ac5d429ce69e4ab98ee7545b1f87bd3ce75d4a397cbd','2e49e29f39ecc9e47ca08b624f3334e132699d3bb7fae9b308387f76d42c00da');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4244','RIG-7',5,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','quiz','{"answers":{"a":["x","y"],"b":{"spot":["t1"]},"c":null},"competency":"set-slips","content":"c0ffee","critical_missed":[],"cut":1,"items":["a:1"],"language":"es","options":{"a":["x","y"]},"parameters":{"a":{"depth":"12.5"}},"passed":true,"points":1,"quiz":"set-slips","read_aloud_by":null,"right":["a"],"seed":"s","started":"2026-03-02T06:00:00.000Z","v":1}','2e49e29f39ecc9e47ca08b624f3334e132699d3bb7fae9b308387f76d42c00da','de1e06a5386c3ed6da121b244fa8b2ed9e0c7e15d780a5dd28a6fbb16ebc6dc8');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4245','RIG-7',6,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','observation','{"brake":"drl","checklist":"connections","conditions":{"light":"night"},"content":"c0ffee","entered":"2026-03-02","hand_present":"signed","held":"2026-03-01","note":null,"observer":"obs","outcomes":{"pull-slips":"not yet","set-slips":"clean"},"overall":"yes","purpose":"assessment","signatures":[{"at":"2026-03-02T06:00:00.000Z","hand":"obs","means":"watched","role":"observer"}],"steps":[{"note":null,"own_act":true,"state":"met","step":"see-hold"},{"note":"aa","own_act":false,"state":"not met","step":"clear"}],"stop_called":false,"tour":"18:00-06:00","v":1}','de1e06a5386c3ed6da121b244fa8b2ed9e0c7e15d780a5dd28a6fbb16ebc6dc8','7df8589c40e9d5689c62fce83bdc99c8b28206b90aac60a81f876e2b16846f3d');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4246','RIG-7',7,'2026-03-02T06:00:00.000Z','2026-03-02','console','h1','stood-down','{"competency":"pull-slips","observation":"00000000-0000-7000-8000-0000000f4245","observer":"obs","v":1,"why":"aa"}','7df8589c40e9d5689c62fce83bdc99c8b28206b90aac60a81f876e2b16846f3d','c7c3fb4cc8a5d86efa50509fe42c8d9c49d086432e91c5286f50d0d4c40af1a0');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4247','RIG-7',8,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','tailgate','{"answers":{"q1":"x"},"competency":"set-slips","content":"","entered":"","form":null,"guests":[],"items":[],"job":null,"language":"","paper":false,"passed":true,"present":"throughout","right":[],"tailgate":"tg-1","topic":"where","tour":"","v":1,"vouched":"drl"}','c7c3fb4cc8a5d86efa50509fe42c8d9c49d086432e91c5286f50d0d4c40af1a0','280b7b39783a39bf8d772382931ac0099086712b25e720dc95950d63dd75fcde');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4248','RIG-7',9,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','outside','{"competency":"set-slips","note":null,"observer":"bb","outcome":"pass","part":"outside-practical","v":1}','280b7b39783a39bf8d772382931ac0099086712b25e720dc95950d63dd75fcde','d0d910b85d349f2cf2d4b6c999322b447462e9c473e072e7833708e9388a91ea');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f4249','RIG-7',10,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','stood-down','{"competency":"set-slips","observation":null,"observer":null,"v":1,"why":"cc"}','d0d910b85d349f2cf2d4b6c999322b447462e9c473e072e7833708e9388a91ea','f5ce8fcb06bacaa351d661574c9fcab6718a8c6184caf1c016dfd5ead30bf2c8');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424a','RIG-7',11,'2026-03-02T06:00:00.000Z','2026-03-02','console','h2','reinstated','{"competency":"set-slips","done":"dd","observer":null,"second":null,"v":1}','f5ce8fcb06bacaa351d661574c9fcab6718a8c6184caf1c016dfd5ead30bf2c8','8e59c646ea4d3d31debdbaeaed64833f822f7df9becfc1ac38c82916fa9b4f50');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424b','RIG-7',12,'2026-03-02T06:00:00.000Z','2026-03-02','console','h3','observation','{"brake":"drl","checklist":"connections","conditions":{"light":"night"},"content":"c0ffee","entered":"2026-03-02","hand_present":"signed","held":"2026-03-01","note":null,"observer":"obs","outcomes":{"set-slips":"clean"},"overall":"yes","purpose":"assessment","signatures":[{"at":"2026-03-02T06:00:00.000Z","hand":"obs","means":"watched","role":"observer"}],"steps":[{"note":null,"own_act":true,"state":"met","step":"see-hold"},{"note":"aa","own_act":false,"state":"not met","step":"clear"}],"stop_called":false,"tour":"18:00-06:00","v":1}','8e59c646ea4d3d31debdbaeaed64833f822f7df9becfc1ac38c82916fa9b4f50','7563d4c4ddbde862cac74c9ff96f823fb56a8b4cbae2d3caded3dbde83531015');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424c','RIG-7',13,'2026-03-02T06:00:00.000Z','2026-03-02','console','h3','stood-down','{"competency":"set-slips","observation":"00000000-0000-7000-8000-0000000f424b","observer":null,"v":1,"why":null}','7563d4c4ddbde862cac74c9ff96f823fb56a8b4cbae2d3caded3dbde83531015','49a5ce36a320b0ddbb26cd46bf6e4e226bb056ff543b29827d1c69e2a314cb95');
INSERT INTO "records" VALUES('00000000-0000-7000-8000-0000000f424d','RIG-7',14,'2026-03-02T06:00:00.000Z','2026-03-02','console','h3','void','{"record":"00000000-0000-7000-8000-0000000f424b","second":null,"v":1,"why":"ee"}','49a5ce36a320b0ddbb26cd46bf6e4e226bb056ff543b29827d1c69e2a314cb95','5a60b77b708dfd11fc104f66ae2a53fcd682a609f4adca89e603fe86402eccb4');
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
