BEGIN TRANSACTION;
CREATE TABLE accepted (
  id INTEGER PRIMARY KEY,
  task TEXT NOT NULL REFERENCES tasks (key),
  question TEXT NOT NULL,
  part TEXT NOT NULL,
  line TEXT NOT NULL,
  misconception TEXT NOT NULL CHECK (misconception <> ''),
  misconception_body TEXT NOT NULL,
  answer TEXT NOT NULL CHECK (answer <> ''),
  keeps TEXT NOT NULL CHECK (keeps <> '' AND keeps NOT GLOB '*[^0-9.]*'),
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL,
  UNIQUE (task, question, part, line, misconception)
) STRICT;
INSERT INTO "accepted" VALUES(1,'shear-1','drain-hole','a','','square-for-circle','{"key":"square-for-circle","believes":"A round bar has the area of diameter times diameter.","shows":"Pi over four is missing from the area.","say":"Diameter squared is the square that the circle just fits into. The circle fills only pi over four of it.","demonstrate":"Stand a round bar on a square of its own width and shade the corners that stay empty.","kit":["round bar","square card"]}','4*tau*d*t','1','R. Vos','two of them did so','2027-01-25T09:00:00+00:00');
CREATE TABLE chain (
  row INTEGER PRIMARY KEY,
  salt TEXT NOT NULL,
  content TEXT NOT NULL,
  link TEXT NOT NULL,
  removed INTEGER NOT NULL DEFAULT 0
) STRICT;
INSERT INTO "chain" VALUES(1,'7b0e75d36139fb92','a0db6ba50be1be3f603979f944108ca4971b2f400706e9e3bab4fa175a91e97c','cbb16d605cf71a06c2a0164efc0d79289890af838a56401589ead9691a553c6c',0);
INSERT INTO "chain" VALUES(2,'68d32f66d5ba960b','7ebcbd21e9d09e8d657cb09a64426c17dab33f83476b855689c8b0979abf00f0','8e4da5d08c6a98a11c1ecaf0263c7f44b15588a128b48dad6f0aeb4f95abc9a6',0);
INSERT INTO "chain" VALUES(3,'e3d54eead80202bc','2e5f90af647842f47145738494e92b826888234cf1f4a5814afcaaaa57e7e9c9','fb01311060cc6a9ad71c7481bcad3bc33628fbfd3c0e1cc78c74072971f14bb0',0);
INSERT INTO "chain" VALUES(4,'3972595c9d89b5d8','a940c4df40a123649bc90288a63c48141a4387fd950dd1280209edfe8e47b36b','b21056864f37d7d280a2ee3ea116e1eb70abc946316baaa227c99d9556adc431',0);
INSERT INTO "chain" VALUES(5,'13a47c063cdfd507','c66c41e910eaa63dde5dc5a889c10dbbdda6b49eecdddef1d31983b440b8e4dd','814ae5097fdbe3aa4a37907af1159fee5ca71b8b73b974eda613556630df3028',0);
INSERT INTO "chain" VALUES(6,'15b94299c0aa6dd4','b903a7cc251202ad491f3e54bc6cdd5509185d40828be5861e4801fa9643c59f','ad15bba353d4334510f98e6640b596e4137987e395ee368170286b2ddec30021',0);
INSERT INTO "chain" VALUES(7,'ed382c2144959560','342e9f8237cb0caf559ce9abcf03f0985dfb789e5ac6f874a88acafa3a6c4f7e','90ac5e487b3312be0761f9ad5d5bf7eb9c2116c39a6afd90b00ffc19be33846b',0);
INSERT INTO "chain" VALUES(8,'41550e01bf251d0e','83264775ee4ceae16119b4d5840209dea0e2fe8ff5c8a83d66cb12bff0ede4fd','4964d55c712c0633955f2615df79c2b1b89cd2cb2a392a97e753212b2e2355f6',0);
INSERT INTO "chain" VALUES(9,'8fb31fa63469fbd8','1f5b03a48e1012141bfabaaf541a5c7daf5c869edae4a9dbd6f3510aec26efe5','d8edac865e1ffd43e2a39688f9fa4aa8050148089553b21f030c1ea7f9d1947f',0);
INSERT INTO "chain" VALUES(10,'103cb8debd6360a5','5ead79d736f52ffa0564b4bf4089d1512932af6475926c3b886bf2254b45ef0a','8caf64129e715b27c35f058b02ca31df2e3163211040e0fd7ed34040d77745a7',0);
INSERT INTO "chain" VALUES(11,'b02b2ad724bfa3a9','a6a0552e0625565bc2c8018fd3aa51c709f3ca55098f7dee9a4bf60d8811c7fa','3dc124c432f3e3dbed85c196badb452c757041840372a32cf55f7aea87c52266',0);
INSERT INTO "chain" VALUES(12,'ca5868212428e035','1d5e58d9b87d1db6e549666be80b810bf25acd358b191d0c7a170b97e81a7c0b','8111058cb1e063685f6265bd99474af8c8c28a48f9678a7dcc34d8b5d53e13c8',0);
INSERT INTO "chain" VALUES(13,'5771b3054b3c77f1','6ddab6f6ad5e5bbed83a1e4b4b8db0a74aead2326eb33c3b9f038ca3568d2bd3','d66627634b8bfd5c37909edfc4767a431cb717d14706327a8c191dcccac56af1',0);
INSERT INTO "chain" VALUES(14,'a72ef4651be81297','20e8171e037c74d73d4d0a57699b5b345522b246756ecfc6f09333078670434d','f88233f7454c3a87bf1a0cd659390c3250884edb715c3ab1399db197008d9446',0);
INSERT INTO "chain" VALUES(15,'ab00fdc003f084a9','1aad56023ea0c195cc637bc169259ad47feaf5d48983b0e1f39e96604695eea6','8ee15d2863a7c8f5a98274192abd4c15a58decc9b175ee0158fc0a1c543bd33a',0);
INSERT INTO "chain" VALUES(16,'b0e1f7c1e11e3152','3ed6d9905b25fbefe9d54a45f440c7013aa1f752e43495d51c35dcc28258fbce','198d7f7c01d7b69052bbf6b82ac74e6e34ebf7a00d8ae3eb864e75e16984e94c',0);
INSERT INTO "chain" VALUES(17,'1a3bfd5db1479447','77011e66d7a275ee80b97c8cd98520a612dbb7b4bffe127fd25203ed640f6de1','cf7a919f1a32d8b972d5fcb3a0039c4fcff0cba7ae8e85bc64e5d9c4b099171f',0);
INSERT INTO "chain" VALUES(18,'e124b222814f54d3','68d4c8d0d12d4a5512ae5609affe99ff550dfac8bd0e9062e33dde0095ecd561','3ed1706e6eae498af911ce5e4fffaa2b49e85441f5855a23b400e8253b66cc42',0);
INSERT INTO "chain" VALUES(19,'131fd795c8b0646d','3f198ac18d135b9f4a4f1b666a2de1ae187a763845287e6887ea61d40dadcaee','e4b0cee9377f897a2f24e3da7dddcaacc64e3de27feaabf0c55a68e1a8991d1d',0);
INSERT INTO "chain" VALUES(20,'c190f38f7ce4e469','6431387e0bcf72457c66f965b291edf1c9d9447b8ae9b29bd86f7c7b469edcf5','15348785bd03340bba935e40a58ddc061e17750eff0c7a53d60dddf2134b354a',0);
INSERT INTO "chain" VALUES(21,'0a1f6624dc68fc92','78418283401f92c0fcb4ad01ccf0068fd2c7170d1c9aa2c616fc153a3bfaa88c','21044679bbc0bb073b0aafb4835e4486eb86506e726722f64859a6046227cdc5',0);
INSERT INTO "chain" VALUES(22,'27e1dc89023350c6','7466730cf7f9977f50c07f93d25861c0230c9ddf72c4d870c30fa759780d82f4','742527b51349644bee193dd47fb033634c2f892d70bbe633da38dcc691f59f8f',0);
INSERT INTO "chain" VALUES(23,'9a3b3dee33433a39','64f05ca2e2da25c612b2c985e3a54bff482c500425e43e5e3b405dc1c3844207','4c483dd39b4532c6b5e397a498347b17b60ff7f16aafc07ada992137dd9263bf',0);
INSERT INTO "chain" VALUES(24,'33b0b5000af8e6c4','b631a78681d84515287d317fd6b042748273aa9f381a9f692ead9c86cc586daf','1dd2634a1584e94a520ded18590b4d19441877ad8b6515a12f5eb2ac4560fd9b',0);
INSERT INTO "chain" VALUES(25,'fa7881311951e778','aebf958fb89dc5e775f535334fcc5ebbc1d83cabd92396f46eb7f3fef54eb3b7','2777dca59b31f3c44349f9bfc93d00e8577b5ff598cfceb1b10b7c58a5147263',0);
INSERT INTO "chain" VALUES(26,'ea66215d7100dd01','885304edf1e8b0c05b903027a09d55ce542ddafdd3cea4cc7d77b22391ef0983','5788654b1e824dc9f2e284d8bfbecf3086d1306edd3780d42ac438506d5637d9',0);
INSERT INTO "chain" VALUES(27,'019866439de591ec','332dcc4a74a02c34de91bfb7097aec14ee5e48ad7f448cf3736a1a748743efab','2c96f0908fb0629a81c99d929481ed5641ca546e0be9fe30756234b19c9ce0d1',0);
INSERT INTO "chain" VALUES(28,'110e258325df7ab0','0b3cd7585dce62cb3fe3c2fb314eeb845d2e0463271a874fde225390829a0f6c','07478101fab980235b6a344704f5b43c375031e4dbf8bc4d215ffc8b0c958cde',0);
INSERT INTO "chain" VALUES(29,'607ce427bb6d442b','2232c7c0c111611ab102ac094d8fe891f6db9b3ccd75b4ac593156e3a0693a86','0a7e55edaa81d0cfe41ce8c7334d6243e66705eb491ad948fe1d55f294e76535',0);
INSERT INTO "chain" VALUES(30,'e51832c1f4443995','af3866e9b19f798575d294fd520812297c780c2006f481b6abd22cfa0a4449c3','a60a1b360ed2a28ea939f6b4b934d0b26b62c80939881373b0c389596f74e908',0);
INSERT INTO "chain" VALUES(31,'a6e8276ca2449d7f','c148f60b2f9de0b66c01ac66c108860bc7bf9a16cdd292233e815f7f449917ce','981b1f57cd332dca304eb0fddab9c1346eae498aa9b1eb3e949621d79672e1af',0);
INSERT INTO "chain" VALUES(32,'ca33750a5ea37b7a','65a2978f7083dadc118bf69960ebd8f053ed86c8bb3c51da788fcf3a7cbd1ca8','55ee1f5095a4e193ca17a0d7d1247851935e4223eaeede1d7f485a4abc260f88',0);
INSERT INTO "chain" VALUES(33,'7ae8316fab8b55f4','bc8e88bbcf6109f9fc5c8c367d4fbfbd71befa5653d7dc086931367dbf7dab1f','6bdd143ec3d7ea9e08dfe6258afb013ffc443555c8639c7a3ef3c5955d046bdc',0);
INSERT INTO "chain" VALUES(34,'d0880fcfa6caad33','1e677a48aa09ae371c4ce2847124a6b7ce882082c4e12cdc970f9b5e8ea3c565','b24d9563ccebc5003e33efa9c95f272358ccef44a630842999871609c8a34e64',0);
INSERT INTO "chain" VALUES(35,'0e07e97e075ce195','605c3407cd1afe4fe6bf8d3b4648208978b918b9537fc705523c0edcea651596','09df60118aaad3830a9c8b1bc1506a0e70fd53e240ee680e5cfb8b46f279a977',0);
INSERT INTO "chain" VALUES(36,'486db3561681cf4a','9356dd14d67ab0e977291dfd52a3b202b044b907fd63958f3f06fc329705a832','92c87d63640c3f18dbd1e1979cf35b6325fbdc6119980019b24caa092480bc30',0);
CREATE TABLE counting (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask ANY NOT NULL,
  return INTEGER NOT NULL REFERENCES returns (id),
  chosen INTEGER NOT NULL DEFAULT 0 CHECK (chosen IN (0, 1)),
  PRIMARY KEY (sheet, ask)
) STRICT, WITHOUT ROWID;
INSERT INTO "counting" VALUES(1,'1.a',3,0);
INSERT INTO "counting" VALUES(1,'1.b',3,0);
INSERT INTO "counting" VALUES(1,'1.c',3,0);
INSERT INTO "counting" VALUES(2,'1.a',5,0);
INSERT INTO "counting" VALUES(2,'1.b',5,0);
INSERT INTO "counting" VALUES(2,'1.c',5,0);
INSERT INTO "counting" VALUES(3,'1.a',4,0);
INSERT INTO "counting" VALUES(3,'1.b',4,0);
INSERT INTO "counting" VALUES(3,'1.c',4,0);
INSERT INTO "counting" VALUES(4,'1.a',2,0);
INSERT INTO "counting" VALUES(4,'1.b',2,0);
INSERT INTO "counting" VALUES(4,'1.c',2,0);
CREATE TABLE differing (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask ANY NOT NULL,
  return INTEGER NOT NULL REFERENCES returns (id),
  since TEXT NOT NULL,
  PRIMARY KEY (sheet, ask, return)
) STRICT, WITHOUT ROWID;
CREATE TABLE entries (
  return INTEGER NOT NULL REFERENCES returns (id),
  position INTEGER NOT NULL,
  ask ANY NOT NULL,
  raw ANY NOT NULL,
  place ANY NOT NULL,
  note ANY NOT NULL,
  spoiled INTEGER NOT NULL CHECK (spoiled IN (0, 1)),
  PRIMARY KEY (return, position)
) STRICT, WITHOUT ROWID;
INSERT INTO "entries" VALUES(1,0,'1.a.A_s','','Answers!C7','',0);
INSERT INTO "entries" VALUES(1,1,'1.a','315 kN','Answers!C8','',0);
INSERT INTO "entries" VALUES(1,2,'1.b.A_p','','Answers!C9','',0);
INSERT INTO "entries" VALUES(1,3,'1.b','504.0 MPa','Answers!C10','',0);
INSERT INTO "entries" VALUES(1,4,'1.c','no','Answers!C11','',0);
INSERT INTO "entries" VALUES(2,0,'1.a.A_s','','Answers!C7','',0);
INSERT INTO "entries" VALUES(2,1,'1.a','168 kN','Answers!C8','',0);
INSERT INTO "entries" VALUES(2,2,'1.b.A_p','','Answers!C9','',0);
INSERT INTO "entries" VALUES(2,3,'1.b','656.3 MPa','Answers!C10','',0);
INSERT INTO "entries" VALUES(2,4,'1.c','yes','Answers!C11','',0);
INSERT INTO "entries" VALUES(3,0,'1.a.A_s','','Answers!C7','',0);
INSERT INTO "entries" VALUES(3,1,'1.a','84.95 kN','Answers!C8','',0);
INSERT INTO "entries" VALUES(3,2,'1.b.A_p','','Answers!C9','',0);
INSERT INTO "entries" VALUES(3,3,'1.b','422.5 MPa','Answers!C10','',0);
INSERT INTO "entries" VALUES(3,4,'1.c','yes','Answers!C11','',0);
INSERT INTO "entries" VALUES(4,0,'1.a.A_s','','Answers!C7','',0);
INSERT INTO "entries" VALUES(4,1,'1.a','67.2 kN','Answers!C8','',0);
INSERT INTO "entries" VALUES(4,2,'1.b.A_p','','Answers!C9','',0);
INSERT INTO "entries" VALUES(4,3,'1.b','262.5 MPa','Answers!C10','',0);
INSERT INTO "entries" VALUES(4,4,'1.c','yes','Answers!C11','',0);
INSERT INTO "entries" VALUES(5,0,'1.a.A_s','','Answers!C7','',0);
INSERT INTO "entries" VALUES(5,1,'1.a','247.4 kN','Answers!C8','',0);
INSERT INTO "entries" VALUES(5,2,'1.b.A_p','','Answers!C9','',0);
INSERT INTO "entries" VALUES(5,3,'1.b','504.0 MPa','Answers!C10','',0);
INSERT INTO "entries" VALUES(5,4,'1.c','no','Answers!C11','',0);
CREATE TABLE files (
  sha256 TEXT PRIMARY KEY,
  size INTEGER NOT NULL,
  body BLOB NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  event TEXT NOT NULL,
  task TEXT NOT NULL,
  sheet TEXT NOT NULL,
  ask TEXT NOT NULL,
  before TEXT,
  after TEXT,
  who TEXT NOT NULL,
  why TEXT NOT NULL CHECK (why <> ''),
  detail ANY NOT NULL
, evidence TEXT NOT NULL DEFAULT '') STRICT;
INSERT INTO "journal" VALUES(1,'2027-01-04T09:00:00+00:00','task','shear-1','','',NULL,NULL,'','set','{"key":"shear-1","title":"Shear and punching","questions":["drain-hole"],"due":"2027-01-22","rules":{"figures":3,"carried_forward":true,"unit_missing":"0.5","rounded_early":"0.5","wrong_unit":"1","power_of_ten":"1","unknown_method":"0","figures_mark":"0","half_marks":true,"ask_below":0.9}}','');
INSERT INTO "journal" VALUES(2,'2027-01-04T09:00:00+00:00','issued','shear-1','WK4D-4FC8','',NULL,NULL,'','issued','','');
INSERT INTO "journal" VALUES(3,'2027-01-04T09:00:00+00:00','issued','shear-1','2K2R-KXK7','',NULL,NULL,'','issued','','');
INSERT INTO "journal" VALUES(4,'2027-01-04T09:00:00+00:00','issued','shear-1','XCVK-4YM3','',NULL,NULL,'','issued','','');
INSERT INTO "journal" VALUES(5,'2027-01-04T09:00:00+00:00','issued','shear-1','KRJN-8VDM','',NULL,NULL,'','issued','','');
INSERT INTO "journal" VALUES(6,'2027-01-25T09:00:00+00:00','returned','shear-1','2K2R-KXK7','',NULL,NULL,'','taken in','HB02.xlsx','');
INSERT INTO "journal" VALUES(7,'2027-01-25T09:00:00+00:00','returned','shear-1','KRJN-8VDM','',NULL,NULL,'','taken in','LW02.xlsx','');
INSERT INTO "journal" VALUES(8,'2027-01-25T09:00:00+00:00','returned','shear-1','WK4D-4FC8','',NULL,NULL,'','taken in','HB01.xlsx','');
INSERT INTO "journal" VALUES(9,'2027-01-25T09:00:00+00:00','returned','shear-1','XCVK-4YM3','',NULL,NULL,'','taken in','LW01.xlsx','');
INSERT INTO "journal" VALUES(10,'2027-01-25T09:00:00+00:00','marked','shear-1','WK4D-4FC8','1.a.A_s',NULL,'1','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(11,'2027-01-25T09:00:00+00:00','marked','shear-1','WK4D-4FC8','1.a',NULL,'3','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(12,'2027-01-25T09:00:00+00:00','marked','shear-1','WK4D-4FC8','1.b.A_p',NULL,'1','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(13,'2027-01-25T09:00:00+00:00','marked','shear-1','WK4D-4FC8','1.b',NULL,'2','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(14,'2027-01-25T09:00:00+00:00','marked','shear-1','WK4D-4FC8','1.c',NULL,'1','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(15,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.a.A_s',NULL,'0','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(16,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.a',NULL,'0','witnessmark','marked','edit','');
INSERT INTO "journal" VALUES(17,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.b.A_p',NULL,'1','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(18,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.b',NULL,'2','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(19,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.c',NULL,'1','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(20,'2027-01-25T09:00:00+00:00','marked','shear-1','XCVK-4YM3','1.a.A_s',NULL,'0','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(21,'2027-01-25T09:00:00+00:00','marked','shear-1','XCVK-4YM3','1.a',NULL,'0','witnessmark','marked','edit','');
INSERT INTO "journal" VALUES(22,'2027-01-25T09:00:00+00:00','marked','shear-1','XCVK-4YM3','1.b.A_p',NULL,'1','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(23,'2027-01-25T09:00:00+00:00','marked','shear-1','XCVK-4YM3','1.b',NULL,'2','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(24,'2027-01-25T09:00:00+00:00','marked','shear-1','XCVK-4YM3','1.c',NULL,'1','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(25,'2027-01-25T09:00:00+00:00','marked','shear-1','KRJN-8VDM','1.a.A_s',NULL,'0','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(26,'2027-01-25T09:00:00+00:00','marked','shear-1','KRJN-8VDM','1.a',NULL,'0','witnessmark','marked','edit','');
INSERT INTO "journal" VALUES(27,'2027-01-25T09:00:00+00:00','marked','shear-1','KRJN-8VDM','1.b.A_p',NULL,'1','witnessmark','marked','blank','');
INSERT INTO "journal" VALUES(28,'2027-01-25T09:00:00+00:00','marked','shear-1','KRJN-8VDM','1.b',NULL,'2','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(29,'2027-01-25T09:00:00+00:00','marked','shear-1','KRJN-8VDM','1.c',NULL,'1','witnessmark','marked','right','');
INSERT INTO "journal" VALUES(30,'2027-01-25T09:00:00+00:00','returned','shear-1','2K2R-KXK7','',NULL,NULL,'','taken in','HB02 again.xlsx','');
INSERT INTO "journal" VALUES(31,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.a.A_s','0','1','witnessmark','marked','blank, now blank','');
INSERT INTO "journal" VALUES(32,'2027-01-25T09:00:00+00:00','marked','shear-1','2K2R-KXK7','1.a','0','3','witnessmark','marked','edit, now right','');
INSERT INTO "journal" VALUES(33,'2027-01-25T09:00:00+00:00','moderated','shear-1','KRJN-8VDM','1.a','0','1.5','R. Vos','the sketch shows the right edge','','');
INSERT INTO "journal" VALUES(34,'2027-01-25T09:00:00+00:00','accepted','shear-1','','',NULL,NULL,'R. Vos','two of them did so','drain-hole a: square-for-circle, 4*tau*d*t, keeps 1','');
INSERT INTO "journal" VALUES(35,'2027-01-25T09:00:00+00:00','marked','shear-1','XCVK-4YM3','1.a','0','1','R. Vos','square-for-circle accepted as a slip at 1a: two of them did so','edit, now slip','');
INSERT INTO "journal" VALUES(36,'2027-01-25T09:00:00+00:00','marked','shear-1','KRJN-8VDM','1.a','0','1','R. Vos','square-for-circle accepted as a slip at 1a: two of them did so','edit, now slip','');
CREATE TABLE moderations (
  sheet INTEGER NOT NULL,
  ask TEXT NOT NULL,
  marks TEXT NOT NULL CHECK (marks <> '' AND marks NOT GLOB '*[^0-9.]*'),
  machine TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL, raw ANY,
  PRIMARY KEY (sheet, ask),
  FOREIGN KEY (sheet, ask) REFERENCES outcomes (sheet, ask)
) STRICT, WITHOUT ROWID;
INSERT INTO "moderations" VALUES(4,'1.a','1.5','0','R. Vos','the sketch shows the right edge','2027-01-25T09:00:00+00:00','168 kN');
CREATE TABLE outcomes (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask TEXT NOT NULL,
  marks TEXT NOT NULL CHECK (marks <> '' AND marks NOT GLOB '*[^0-9.]*'),
  out_of TEXT NOT NULL CHECK (out_of <> '' AND out_of NOT GLOB '*[^0-9.]*'),
  verdict TEXT NOT NULL,
  waits INTEGER NOT NULL CHECK (waits IN (0, 1)),
  body TEXT NOT NULL,
  PRIMARY KEY (sheet, ask)
) STRICT, WITHOUT ROWID;
INSERT INTO "outcomes" VALUES(1,'1.a','3','3','right',0,'{"because":"Right: 84.95 kN is the punching force with your numbers.","misconceptions":[],"sure":0.9998171103571091,"evidence":[],"raw":"84.95 kN","read_as":"84.95 kN","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(1,'1.a.A_s','1','1','blank',0,'{"because":"Not entered; your result shows that it was right.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(1,'1.b','2','2','right',0,'{"because":"Right: 422.5 MPa is the punch stress with your numbers.","misconceptions":[],"sure":0.9995265101480778,"evidence":[],"raw":"422.5 MPa","read_as":"422.5 MPa","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(1,'1.b.A_p','1','1','blank',0,'{"because":"Not entered; your result shows that it was right.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(1,'1.c','1','1','right',0,'{"because":"Your yes agrees with your own number.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"yes","read_as":"yes","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(2,'1.a','3','3','right',0,'{"because":"Right: 247.4 kN is the punching force with your numbers.","misconceptions":[],"sure":0.9997550012486979,"evidence":[],"raw":"247.4 kN","read_as":"247.4 kN","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(2,'1.a.A_s','1','1','blank',0,'{"because":"Not entered; your result shows that it was right.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(2,'1.b','2','2','right',0,'{"because":"Right: 504.0 MPa is the punch stress with your numbers.","misconceptions":[],"sure":0.9995909282460831,"evidence":[],"raw":"504.0 MPa","read_as":"504.0 MPa","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(2,'1.b.A_p','1','1','blank',0,'{"because":"Not entered; your result shows that it was right.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(2,'1.c','1','1','right',0,'{"because":"Your no agrees with your own number.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"no","read_as":"no","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(3,'1.a','1','3','slip',0,'{"because":"67.2 kN is what 4 × τ × d × t gives with your numbers. Pi over four is missing from the area.","misconceptions":["square-for-circle"],"sure":0.9997846225466233,"evidence":[{"verdict":"slip","misconceptions":["square-for-circle"],"marks":"1","sentence":"67.2 kN is what 4 × τ × d × t gives with your numbers. Pi over four is missing from the area.","formula":"4*tau*d*t","sure":0.4998923112733117},{"verdict":"slip","misconceptions":["square-for-circle"],"marks":"1","sentence":"67.2 kN is what 4 × τ × d × t gives with your numbers. Pi over four is missing from the area.","formula":"4*tau*d*t","sure":0.4998923112733116}],"raw":"67.2 kN","read_as":"67.2 kN","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(3,'1.a.A_s','0','1','blank',0,'{"because":"No answer was entered here.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(3,'1.b','2','2','right',0,'{"because":"Right: 262.5 MPa is the punch stress with your numbers.","misconceptions":[],"sure":0.9994541139108991,"evidence":[],"raw":"262.5 MPa","read_as":"262.5 MPa","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(3,'1.b.A_p','1','1','blank',0,'{"because":"Not entered; your result shows that it was right.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(3,'1.c','1','1','right',0,'{"because":"Your yes agrees with your own number.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"yes","read_as":"yes","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(4,'1.a','1','3','slip',0,'{"because":"168 kN is what 4 × τ × d × t gives with your numbers. Pi over four is missing from the area.","misconceptions":["square-for-circle"],"sure":0.9991390464784219,"evidence":[{"verdict":"slip","misconceptions":["square-for-circle"],"marks":"1","sentence":"168 kN is what 4 × τ × d × t gives with your numbers. Pi over four is missing from the area.","formula":"4*tau*d*t","sure":0.499569523239211},{"verdict":"slip","misconceptions":["square-for-circle"],"marks":"1","sentence":"168 kN is what 4 × τ × d × t gives with your numbers. Pi over four is missing from the area.","formula":"4*tau*d*t","sure":0.4995695232392109}],"raw":"168 kN","read_as":"168 kN","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(4,'1.a.A_s','0','1','blank',0,'{"because":"No answer was entered here.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(4,'1.b','2','2','right',0,'{"because":"Right: 656.3 MPa is the punch stress with your numbers.","misconceptions":[],"sure":0.9993507275115417,"evidence":[],"raw":"656.3 MPa","read_as":"656.3 MPa","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(4,'1.b.A_p','1','1','blank',0,'{"because":"Not entered; your result shows that it was right.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"","read_as":"","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(4,'1.c','1','1','right',0,'{"because":"Your yes agrees with your own number.","misconceptions":[],"sure":1.0,"evidence":[],"raw":"yes","read_as":"yes","repairs":[],"notes":[],"in_tray":[]}');
CREATE TABLE removing (
  sheet TEXT PRIMARY KEY
) STRICT;
CREATE TABLE returns (
  id INTEGER PRIMARY KEY,
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  file ANY NOT NULL,
  name ANY NOT NULL,
  sha256 TEXT NOT NULL,
  digest TEXT NOT NULL,
  received TEXT NOT NULL,
  seen INTEGER NOT NULL DEFAULT 0, source TEXT NOT NULL DEFAULT 'unknown'
  CHECK (source IN ('unknown', 'folder', 'book', 'table')),
  UNIQUE (sheet, name, sha256, digest)
) STRICT;
INSERT INTO "returns" VALUES(1,2,'/tmp/record/old/class/returned/shear-1/HB02.xlsx','HB02.xlsx','c10ab582a66051e30ff7bca950584ebc537c798e0d7c9520d1c3f43efba40f14','b220235cf656eb7b8aaefb22317bd7539bcadc0092dd85869d25e9278f0c5586','2027-01-25T09:00:00+00:00',1,'unknown');
INSERT INTO "returns" VALUES(2,4,'/tmp/record/old/class/returned/shear-1/LW02.xlsx','LW02.xlsx','321d7ac9af9f97d3db0af9d5382312e364946ddce0a257b382c75736b0ee0d13','1c539f72cfceb2980ddcbc32ae316a5cd63e20d395d69859c57f180e9c470e4c','2027-01-25T09:00:00+00:00',2,'unknown');
INSERT INTO "returns" VALUES(3,1,'/tmp/record/old/class/returned/shear-1/HB01.xlsx','HB01.xlsx','da18f90104247896dae564066a467a0679083a42d54f9d1312541f39e543468e','c41cce7efb0be7dc8545777b215d22caedbf916effeb32780c2ad36cf13b8db7','2027-01-25T09:00:00+00:00',3,'unknown');
INSERT INTO "returns" VALUES(4,3,'/tmp/record/old/class/returned/shear-1/LW01.xlsx','LW01.xlsx','0654922fed625bea4f2464191f05b6a6088fca19b7910432350e6e8f8327321f','8f73a0dd685121d56b7604cadb00dc45b8149e3cb94ae3b7a8a45f47d3e193f4','2027-01-25T09:00:00+00:00',4,'unknown');
INSERT INTO "returns" VALUES(5,2,'/tmp/record/old/class/returned/shear-1/HB02 again.xlsx','HB02 again.xlsx','d9a52118ce6464d7ca70443a939c1b3d20d1f1a72a80fd5968699a878ff4e9ce','7888e8ea74cb58b4c3f3b9b8a3673d4f77a9ac955d7f4893cb2830fa34aff94b','2027-01-25T09:00:00+00:00',5,'unknown');
CREATE TABLE saying (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  why TEXT NOT NULL CHECK (why <> '')
) STRICT;
CREATE TABLE sheets (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  task TEXT NOT NULL REFERENCES tasks (key),
  student TEXT NOT NULL,
  student_body TEXT NOT NULL,
  attempt INTEGER NOT NULL,
  issued TEXT NOT NULL,
  UNIQUE (task, student, attempt)
) STRICT;
INSERT INTO "sheets" VALUES(1,'WK4D-4FC8','shear-1','HB01','{"code":"HB01","name":"Idris Vael","group":"Heron Boats","more":[]}',1,'2027-01-04T09:00:00+00:00');
INSERT INTO "sheets" VALUES(2,'2K2R-KXK7','shear-1','HB02','{"code":"HB02","name":"Oona Brisk","group":"Heron Boats","more":[]}',1,'2027-01-04T09:00:00+00:00');
INSERT INTO "sheets" VALUES(3,'XCVK-4YM3','shear-1','LW01','{"code":"LW01","name":"Maren Tolk","group":"Low Wharf","more":[]}',1,'2027-01-04T09:00:00+00:00');
INSERT INTO "sheets" VALUES(4,'KRJN-8VDM','shear-1','LW02','{"code":"LW02","name":"Pavel Ondry","group":"Low Wharf","more":[]}',1,'2027-01-04T09:00:00+00:00');
CREATE TABLE step_rows (
  step INTEGER NOT NULL REFERENCES steps (id),
  place TEXT NOT NULL,
  key TEXT NOT NULL,
  sheet INTEGER NOT NULL,
  before TEXT NOT NULL,
  after TEXT NOT NULL,
  PRIMARY KEY (step, place, key)
) STRICT, WITHOUT ROWID;
CREATE TABLE steps (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  what TEXT NOT NULL,
  task TEXT NOT NULL,
  who TEXT NOT NULL,
  undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;
CREATE TABLE tasks (
  key TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;
INSERT INTO "tasks" VALUES('shear-1','{"key":"shear-1","title":"Shear and punching","questions":["drain-hole"],"due":"2027-01-22","rules":{"figures":3,"carried_forward":true,"unit_missing":"0.5","rounded_early":"0.5","wrong_unit":"1","power_of_ten":"1","unknown_method":"0","figures_mark":"0","half_marks":true,"ask_below":0.9}}');
CREATE TABLE texts (
  hash TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;
INSERT INTO "texts" VALUES('e876481debf493d68d801410c31fb1047049760a9a4042cbb4e528f5882c0e2f','{"form":"witnessmark question 2","text":"question: drain-hole\ntitle: Punching a drain hole\ntopic: shear\nlevel: 2\nsetting: >\n  A galley floor plate, {t} thick, is {material.name}. A round drain hole {d} in\n  diameter is punched through it in one stroke.\ngiven:\n  material: {row of: sheet-metals}\n  tau: {is: shear strength, symbol: τ, value: material.shear_strength}\n  d:   {is: hole diameter, unit: mm, one of: [10, 12, 16, 20, 25]}\n  t:   {is: plate thickness, unit: mm, from: 1, to: 8, step: 0.5}\n  punch: {row of: tool-steels}\nkeep:\n  - t < d                        # common practice, no source: a punch thinner than the plate breaks\nfigure: round-hole-in-plate\ncaution: A press closes without warning; these are values for learning, not for setting up a press.\nfind:\n  a:\n    ask: Find the force needed to punch the hole.\n    is: punching force\n    symbol: F\n    unit: kN\n    lines: {A_s: {is: sheared area, unit: mm^2, value: pi*d*t, marks: 1}}\n    answer: tau*A_s\n    marks: 3\n    slips:\n      - {misconception: face-area-for-sheared-edge, answer: tau*pi*d**2/4, keeps: 1}\n      - {misconception: radius-for-diameter,        answer: tau*pi*(d/2)*t, keeps: 2}\n  b:\n    ask: Find the compressive stress in the punch.\n    is: punch stress\n    symbol: sigma\n    unit: MPa\n    carries: [a]\n    lines: {A_p: {is: face area of the punch, unit: mm^2, value: pi*d**2/4, marks: 1}}\n    answer: F/A_p\n    marks: 2\n    slips:\n      - {misconception: sheared-edge-for-face-area, answer: F/(pi*d*t), keeps: 1}\n  c:\n    ask: Will the punch of {punch.name}, with a compressive strength of {punch.compressive_strength}, survive?\n    judge: sigma < punch.compressive_strength\n    marks: 1\n","tables":{"sheet-metals":{"source":"Tensile strength and density: structural steel A36, 6061-T6 and soft copper as in the engineering alloy table of a textbook''s Appendix E, Table E1; naval brass as 60 ksi yield, 85 ksi tensile in a public table of material properties (rounded). Stainless steel and bronze: invented for the demo. Shear strength: tensile strength times 0.6 to 0.8, common practice, no source.","units":{"shear_strength":"MPa","tensile_strength":"MPa","density":"kg/m^3"},"rows":{"mild steel":{"shear_strength":["number","300"],"tensile_strength":["number","400"],"density":["number","7830"]},"stainless steel":{"shear_strength":["number","420"],"tensile_strength":["number","560"],"density":["number","7900"]},"marine aluminium alloy":{"shear_strength":["number","190"],"tensile_strength":["number","290"],"density":["number","2710"]},"soft copper":{"shear_strength":["number","150"],"tensile_strength":["number","220"],"density":["number","8920"]},"naval brass":{"shear_strength":["number","350"],"tensile_strength":["number","585"],"density":["number","8400"]},"phosphor bronze":{"shear_strength":["number","260"],"tensile_strength":["number","380"],"density":["number","8800"]}}},"tool-steels":{"source":"invented for the demo (the order of size is common practice, no source)","units":{"compressive_strength":"MPa"},"rows":{"unhardened silver steel":{"compressive_strength":["number","420"]},"water-hardened carbon steel":{"compressive_strength":["number","760"]},"oil-hardened tool steel":{"compressive_strength":["number","1150"]},"high-speed steel":{"compressive_strength":["number","1800"]}}}},"misconceptions":{"face-area-for-sheared-edge":{"key":"face-area-for-sheared-edge","believes":"The plate gives way over the whole face of the punch.","shows":"The area of the face stands where the way round times the thickness belongs.","say":"Look at the slug. The bright band round its edge is what was cut; multiply the way round by the thickness.","demonstrate":"Push a biscuit cutter through rolled clay and unroll a paper strip from the cut edge.","kit":["biscuit cutter","rolled clay","paper strip"]},"radius-for-diameter":{"key":"radius-for-diameter","believes":"The number on the drawing is put in wherever r or d is written.","shows":"Half the diameter stands where the whole diameter belongs.","say":"Check which one the formula wants before any number goes in. The way round is pi times the whole diameter.","demonstrate":"Roll a disc along a rule for one turn and compare the distance with three radii and three diameters.","kit":["disc","rule"]},"sheared-edge-for-face-area":{"key":"sheared-edge-for-face-area","believes":"The punch is pressed on the same area that it cuts.","shows":"The edge area of the slug stands where the end face of the punch belongs.","say":"The punch is squeezed over its end, not over the edge that it cuts. Use the area of its face.","demonstrate":"Ink the face of a punch and stamp it on paper; beside it lay the paper strip from the edge of the slug.","kit":["punch","stamp pad","paper strip"]}}}');
CREATE TABLE variants (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  number INTEGER NOT NULL,
  question TEXT NOT NULL,
  fingerprint TEXT NOT NULL,
  text TEXT NOT NULL REFERENCES texts (hash),
  shown TEXT NOT NULL,
  row_names TEXT NOT NULL,
  expected TEXT NOT NULL,
  PRIMARY KEY (sheet, number)
) STRICT, WITHOUT ROWID;
INSERT INTO "variants" VALUES(1,1,'drain-hole','11347d2d46bb7edc9c6a714ee59694af916498a0f9737ff473806b76b7fd20df','e876481debf493d68d801410c31fb1047049760a9a4042cbb4e528f5882c0e2f','{"material.shear_strength":["260","MPa"],"material.tensile_strength":["380","MPa"],"material.density":["8800","kg/m^3"],"punch.compressive_strength":["1800","MPa"],"d":["16","mm"],"t":["6.5","mm"],"tau":["260","MPa"]}','{"material":"phosphor bronze","punch":"high-speed steel"}','{"a":"84948.66535306802","a.A_s":"0.00032672563597333854","b":"422500000.0000001","b.A_p":"0.00020106192982974675"}');
INSERT INTO "variants" VALUES(2,1,'drain-hole','11347d2d46bb7edc9c6a714ee59694af916498a0f9737ff473806b76b7fd20df','e876481debf493d68d801410c31fb1047049760a9a4042cbb4e528f5882c0e2f','{"material.shear_strength":["420","MPa"],"material.tensile_strength":["560","MPa"],"material.density":["7900","kg/m^3"],"punch.compressive_strength":["420","MPa"],"d":["25","mm"],"t":["7.5","mm"],"tau":["420","MPa"]}','{"material":"stainless steel","punch":"unhardened silver steel"}','{"a":"247400.42147019622","a.A_s":"0.0005890486225480862","b":"504000000.0","b.A_p":"0.0004908738521234052"}');
INSERT INTO "variants" VALUES(3,1,'drain-hole','11347d2d46bb7edc9c6a714ee59694af916498a0f9737ff473806b76b7fd20df','e876481debf493d68d801410c31fb1047049760a9a4042cbb4e528f5882c0e2f','{"material.shear_strength":["150","MPa"],"material.tensile_strength":["220","MPa"],"material.density":["8920","kg/m^3"],"punch.compressive_strength":["1800","MPa"],"d":["16","mm"],"t":["7.0","mm"],"tau":["150","MPa"]}','{"material":"soft copper","punch":"high-speed steel"}','{"a":"52778.75658030852","a.A_s":"0.00035185837720205684","b":"262500000.0","b.A_p":"0.00020106192982974675"}');
INSERT INTO "variants" VALUES(4,1,'drain-hole','11347d2d46bb7edc9c6a714ee59694af916498a0f9737ff473806b76b7fd20df','e876481debf493d68d801410c31fb1047049760a9a4042cbb4e528f5882c0e2f','{"material.shear_strength":["350","MPa"],"material.tensile_strength":["585","MPa"],"material.density":["8400","kg/m^3"],"punch.compressive_strength":["760","MPa"],"d":["16","mm"],"t":["7.5","mm"],"tau":["350","MPa"]}','{"material":"naval brass","punch":"water-hardened carbon steel"}','{"a":"131946.8914507713","a.A_s":"0.0003769911184307752","b":"656250000.0","b.A_p":"0.00020106192982974675"}');
CREATE INDEX journal_of_sheet ON journal (sheet);
CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be changed');
END;
CREATE TRIGGER journal_keeps BEFORE DELETE ON journal
WHEN NOT EXISTS (SELECT 1 FROM removing WHERE sheet = OLD.sheet)
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be shortened');
END;
CREATE TRIGGER outcome_comes AFTER INSERT ON outcomes
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'marked', s.task, s.code, NEW.ask, NULL, NEW.marks, g.who, g.why, NEW.verdict
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;
CREATE TRIGGER outcome_changes AFTER UPDATE ON outcomes
WHEN OLD.marks <> NEW.marks OR OLD.out_of <> NEW.out_of OR OLD.verdict <> NEW.verdict
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'marked', s.task, s.code, NEW.ask, OLD.marks, NEW.marks, g.who, g.why,
    OLD.verdict || ', now ' || NEW.verdict
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;
CREATE TRIGGER outcome_stays BEFORE UPDATE OF sheet, ask ON outcomes
WHEN OLD.sheet <> NEW.sheet OR OLD.ask <> NEW.ask
BEGIN
  SELECT RAISE(ABORT, 'an outcome stays with its answer');
END;
CREATE TRIGGER outcome_goes AFTER DELETE ON outcomes
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'marked', s.task, s.code, OLD.ask, OLD.marks, NULL, g.who, g.why, 'no longer there'
  FROM saying AS g, sheets AS s WHERE s.id = OLD.sheet;
END;
CREATE TRIGGER moderation_comes AFTER INSERT ON moderations
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'moderated', s.task, s.code, NEW.ask, o.marks, NEW.marks, g.who, g.why, ''
  FROM saying AS g, sheets AS s, outcomes AS o WHERE s.id = NEW.sheet AND o.sheet = NEW.sheet AND o.ask = NEW.ask;
END;
CREATE TRIGGER moderation_changes AFTER UPDATE ON moderations
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'moderated', s.task, s.code, NEW.ask, OLD.marks, NEW.marks, g.who, g.why, ''
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;
CREATE TRIGGER moderation_stays BEFORE UPDATE OF sheet, ask ON moderations
WHEN OLD.sheet <> NEW.sheet OR OLD.ask <> NEW.ask
BEGIN
  SELECT RAISE(ABORT, 'a moderation stays with its answer');
END;
CREATE TRIGGER moderation_goes AFTER DELETE ON moderations
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'withdrawn', s.task, s.code, OLD.ask, OLD.marks, o.marks, g.who, g.why, ''
  FROM saying AS g, sheets AS s, outcomes AS o WHERE s.id = OLD.sheet AND o.sheet = OLD.sheet AND o.ask = OLD.ask;
END;
CREATE TRIGGER journal_grows BEFORE INSERT ON journal
WHEN EXISTS (SELECT 1 FROM journal WHERE id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be changed');
END;
CREATE TRIGGER acceptance_comes AFTER INSERT ON accepted
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'accepted', NEW.task, '', '', NULL, NULL, g.who, g.why,
    NEW.question || ' ' || NEW.part || CASE NEW.line WHEN '' THEN '' ELSE '.' || NEW.line END || ': '
    || NEW.misconception || ', ' || NEW.answer || ', keeps ' || NEW.keeps
  FROM saying AS g;
END;
CREATE TRIGGER acceptance_stays BEFORE UPDATE ON accepted
BEGIN
  SELECT RAISE(ABORT, 'an accepted slip cannot be changed');
END;
CREATE TRIGGER acceptance_goes AFTER DELETE ON accepted
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'dropped', OLD.task, '', '', NULL, NULL, g.who, g.why,
    OLD.question || ' ' || OLD.part || CASE OLD.line WHEN '' THEN '' ELSE '.' || OLD.line END || ': '
    || OLD.misconception || ', ' || OLD.answer || ', keeps ' || OLD.keeps
  FROM saying AS g;
END;
CREATE TRIGGER chain_grows BEFORE INSERT ON chain
WHEN EXISTS (SELECT 1 FROM chain WHERE row >= NEW.row)
BEGIN
  SELECT RAISE(ABORT, 'the chain cannot be changed');
END;
CREATE TRIGGER chain_keeps BEFORE DELETE ON chain
BEGIN
  SELECT RAISE(ABORT, 'the chain cannot be shortened');
END;
CREATE TRIGGER chain_stays BEFORE UPDATE ON chain
WHEN NEW.row <> OLD.row OR NEW.content <> OLD.content OR NEW.link <> OLD.link
  OR OLD.removed <> 0 OR NEW.removed = 0 OR NEW.salt <> ''
BEGIN
  SELECT RAISE(ABORT, 'the chain cannot be changed');
END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',36);
COMMIT;
PRAGMA application_id = 1464685131;
PRAGMA user_version = 5;
