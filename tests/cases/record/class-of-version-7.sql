-- A class as version 7 kept it (the class of version 3, brought up to date, with a visit and a mark that a teacher gave with words), as statements that make it again.
PRAGMA user_version = 7;
PRAGMA application_id = 1464685131;
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
INSERT INTO "chain" VALUES(1,'b733e319320fb464','a27d966196ffdd494969e0383a5e458ccbc2c753734d9aa85e93af70292543f3','7ed1a2ad803be539421d36456ffddfa41f46c4ead3126823d74c2f9d005c4a8b',0);
INSERT INTO "chain" VALUES(2,'d5f49c1d70ecdb59','e0239f4a4977812d9338ee2b43a0d19460d1406c2f2cfe308ec76a2793a53468','9c4859f233c917f53c8f1c07afe19abe0eb4e408d8107bb5e6a754fd9665757e',0);
INSERT INTO "chain" VALUES(3,'b9f886fdca9e8a81','a39dda3323e08f2f080f34383611b47683019a61cd4a07d422c33cc558c2bbbd','a0bfa29ea343a8dcbab4e569df2efbb1b1f77b768a09150830ba6ac8541fa18e',0);
INSERT INTO "chain" VALUES(4,'61b6ceaa402cc073','41aba8534513df3c1fca8d5395fd19f9cb1daf8d82e052ba66f120abb35cf1c4','acbf2dc969a2d98cd151d65282f2d90be586d9d559738c5a5f03f85d4532d48b',0);
INSERT INTO "chain" VALUES(5,'f84aea61e697d225','48661b3d83a2b2d9d26706884f170552fba2c263f4443a1f41e6997420c19e6f','6f2968a3521135051a69708abf3a9da16626f88aa59bfddd7a31d7a4012cac31',0);
INSERT INTO "chain" VALUES(6,'d86fde563fee1d3d','1e84d2d0fad514d07fba85e7a730cbc38bcf848e8a9014d4e75cfc1486e3e1a6','ecc7e4a43445c61497c141834bb132d37ca3e90f845ad2e55963dd2d47d06bc0',0);
INSERT INTO "chain" VALUES(7,'8f0f17f611c41bdd','d0fbb526031eddb3bf0b043a3fae3a311911212e08056ebf4190c4dd027f395d','fabd3d9da8a123ce3fa826220d13cfa1a76a82eb24bc772e606487ee7b137ce7',0);
INSERT INTO "chain" VALUES(8,'3eca78a1f4bde57a','574b232f898943b38e4bc6d75a2e54eaebf81f04a23c262d76da04ab99858b25','24a78a83f350506ba733fb78080dfb25768f01782f52bd7f5453812f8ae456ac',0);
INSERT INTO "chain" VALUES(9,'6a23ef806f4eb87d','e3723dc48cf071c48ebe2079141e17e8d4f7c3e82f39317dea6cb7dc5c1e320a','faa4afe23bb0f9de24ed6e1da0b90c34088914396d528ccc02485da0cea71122',0);
INSERT INTO "chain" VALUES(10,'8ff14e63231f7296','eb9977f20af28828f14f1fe606837358a7b73e9d4147aab83871193989c840da','15ded2b3347e561c46ad9902970bf6e48f1148bb0262b179a767b178c99810c3',0);
INSERT INTO "chain" VALUES(11,'4786a07f3ff8dcb6','693c95f60fb79e6d02df50fdc2b01cd124b015dbfc990fd984a747b63bf88354','cf2b53725fb4199e8e8ea1d100966f220184e22acf87316ef936fcab6694ba6f',0);
INSERT INTO "chain" VALUES(12,'88d9b1e64ddc31b7','d0824d91b704633a3740e67afbd616f7b763c79ac1eccaa0068efb11f34a3bec','61371075c436afb561751de51ab94c40a1a6bc9b130b793b3185e6f72b70b840',0);
INSERT INTO "chain" VALUES(13,'3277151c6a46a850','99515b38f02bd09492d51b0bae7660fbc1cd3ae464209f9f742d6aa5722a072c','eb169b6b972fed64438e1d39409d5fdcfcc15987c1124fef1ec6a819fe292d37',0);
INSERT INTO "chain" VALUES(14,'ac4a062432db5c62','4c8d4da1271ed774e80cf12affc70d982c551df76bea53174b9005406db2bd5b','898844560ca034819962b9b292928522ac933968566e911c140744a15750bd48',0);
INSERT INTO "chain" VALUES(15,'c66cae8752a4f701','f8a0273c2d6f9c36440d6387b079afed42aa8741248087e94a0b9dcefc3fef12','e2067181d43ae8a131cb688ab8097cce7510ebbceba84044e4bdbe8951ec16b5',0);
INSERT INTO "chain" VALUES(16,'412e71cae66ef592','d752f64e676c21b42c20c64226a30e7f921fd944dbb08836dabe9f0544ac8dd2','5c99134c8422d779b970c596f3bdbca9faed492ca4515977d0c7068543d4a739',0);
INSERT INTO "chain" VALUES(17,'5dbeaa710a9802cb','3eb9ff38cace8f8d6a8e0f7dbfa5918253eaf228768ef81bf533fe6a74c290ac','1e0c21c8e7c04866937a317b4c2dfa22d9a1c8a8b1a302d6166ac7d77ebe11f9',0);
INSERT INTO "chain" VALUES(18,'f2e9075df380e156','39a6de8b299b5d80a9cd12bfaa4a3167fc0fa271404a18b1b3bb0dbf8806f6a4','45ff774fb225999c85a5eedc2a2b930065144cf722b531b50cf30b1830088d1f',0);
INSERT INTO "chain" VALUES(19,'e47722d3b498c7ee','6da5a54e5206f5e7bfc0d993ad7f80cdf6ab35668deb9b409e35bd97ff4e0ab6','5b151aa8b1330ca8667dc5f6a55a466d707296fd4befd174cf2617602c3d63d5',0);
INSERT INTO "chain" VALUES(20,'6c695e59f6ae0d38','35f9512d8663e24e3f8cfb29aca78bc6958c7467db2b7ec0696eed9a4e6e0171','bea669156be84a520322aa423b071563e74dc0b9a7835d40b6ae7a8d112b9f9d',0);
INSERT INTO "chain" VALUES(21,'c25bf0d12cb7ff07','f40d448d12dc6b52d8fde1cfea53c4900347c2a95692f244b73155c825786506','7d267789b3b0016aebdb8d4a13bf88fb752d548c987e32bcd79cec000837c93c',0);
INSERT INTO "chain" VALUES(22,'941fef7a4bb3ade3','b500b194a55e3a66c0921ddfd8c422c21cac9c600d6c25f8bfd356c2b1b2fc05','6f43253873f6b05cdb1599b48b55c882dc8e87896cd424fa7f396647b0b8c6a5',0);
INSERT INTO "chain" VALUES(23,'761773f5620ad8be','17caf93887470947cd107a024e44e2d311cfbaa70e95cf2376b4dea4cf5443ec','538693297575066324e6bf8c7027e99df62afcefe801af354cfaadcae642e9fb',0);
INSERT INTO "chain" VALUES(24,'0517bb9caf410109','3fa55e30aa776ac94da6de6fe894166fa26c08e85528b31c8b2929cade28c93c','7538b9851ca400b74838de5f8892a9220ac46b59dcec50306011f1f4d2c22634',0);
INSERT INTO "chain" VALUES(25,'8ad65b228fdf7d36','3da36c7addcf8e84e88718919b3cb394fe07035f27e6ccf0748f8d21312119c7','464df3cd0bbd26dcdeb6dbf01b1f68ff5ec1de9d12450b917178606623ba222d',0);
INSERT INTO "chain" VALUES(26,'6eb993b5e681e94c','95ac3221ad0872ba233df4004242afda18cd746ca680849773832e3f478ef309','47f5284093082fe2c4ac07ec01fafe9b08cee1e21de0460607012e9b5e08e9b4',0);
INSERT INTO "chain" VALUES(27,'12f0169035030008','6f69831e2c221c9b262c89cca56da676a2eb435f52f64eebb97248d8530b054c','92a13c3f329c1ffcf6d370d0f6be1e2e2ae18e1d729321b0d6d7848c1aee938f',0);
INSERT INTO "chain" VALUES(28,'d10891387610ce2c','8814204c72fda1e049349f9d9c21fb40b539f8e3de975f11a1b464bd1f360d66','190e6231f9dd87a442648741e46935f81d00f9d89f298b3bec8f265dddbd5980',0);
INSERT INTO "chain" VALUES(29,'7a1a45a16e89db4a','3ba7169efd2fed8909ad8624e3bbddcbdb020f2d7a643dd21468c4882cd73ec5','e38d5ae4943ce0e09e31cc77bd0813b55e5640c3a63c312c2300b1a42d2bb1b5',0);
INSERT INTO "chain" VALUES(30,'ddd5309fc6932d78','3ec915e85f5eb96fd0df043fcd8c4f0731a73fa3f0eefe647dede93470ca0311','256f1422f915480b2a54da59d07fecf135fed21c651eb16a52e80906df9b67e4',0);
INSERT INTO "chain" VALUES(31,'7c56c4ae05b5b083','5de8fb44405d02dc9bdcd499320b410af89987bc0e128438e2baa85356eb655f','f9de7cd816f746a6dd3c329f7a23f9728c44881c99724a5bd18c11cbeda7dc03',0);
INSERT INTO "chain" VALUES(32,'0af7a31def10cf50','a94d8c56b0a2441b63be76a1e83679d69c868836b329a0f0fa3a6d53ede2ea21','56c19229d345d2dee1744ad0c80117d4ddd849041d1e7ef1e6011531ee13db17',0);
INSERT INTO "chain" VALUES(33,'a0fc6f06cb52a4fe','d6c33bb877e774a25785e876b77705c3e4c619c5ba8d78e364195a42b2ded430','c944eb10be7554e9329d82491c3a086a61568271083b0c7d67b07e566ccadb3e',0);
INSERT INTO "chain" VALUES(34,'7e16afdd93b92db4','8cce13c4b65eb8f6aed10e077310360ce2cf43357b89c057dcf57468db918695','fe8299ca85724d8a5539e7d6d524190a287fb363c0f1384946fd8aad5e41c7e8',0);
INSERT INTO "chain" VALUES(35,'b9cf5567a592723b','674bdf087e123d9d661c7e13b45c96ae37cd2617fa19526f2632b9f59ed16c60','a696e5e2bf4aa43e9fefc6d9f4e45a673c9eb40c165e9d7c900e511c29370706',0);
INSERT INTO "chain" VALUES(36,'2572894590c04ad2','e9f1726380cfff56a41411862cfd38da70ccb3650a81e52579712e787a67bdbf','3b8be52c3d71f86c3db393248757e9a6e7f62f4570ece3b066dc22ba9eb06695',0);
INSERT INTO "chain" VALUES(37,'eb6fbbcf3c50cabb','943b462ea63a7f51069186664e7189ffcb65462bccb800bc56ea9e86dd218853','45d92e5806785b29a348524869881e4182976fe47601dc0048b72fdd0b9c2c78',0);
INSERT INTO "chain" VALUES(38,'54d3f0ae4d5b51fc','23058eaea36bb13e1d18eaabd6033c9fa84d59ac4649446e5f4f405548f560dd','70720f84211957fc65d1d5350e2a6b6361c74396cb70ca6bcf2876bc20be0731',0);
INSERT INTO "chain" VALUES(39,'0704c0e6a9e06b31','58d2c22c4648632c6304ceed251ff91fe8cc3075ec8a2a19b5db8dafbea24d18','5f5582bfa03cfb1952fe57b04200561effd8ca513abb27ceb8f733deee6cf914',0);
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
INSERT INTO "journal" VALUES(37,'2027-03-09T18:00:00+00:00','moderated','shear-1','WK4D-4FC8','1.a','3','1','R. Vos','the sketch is right','','');
INSERT INTO "journal" VALUES(38,'2027-03-09T18:00:00+00:00','told','shear-1','WK4D-4FC8','1.a',NULL,NULL,'R. Vos','the sketch is right','Look at the slug once more.','');
INSERT INTO "journal" VALUES(39,'2027-03-09T18:00:00+00:00','visited','','HB01','',NULL,NULL,'R. Vos','cut a disc from clay','2027-03-09 ["square-for-circle"]','');
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
INSERT INTO "moderations" VALUES(1,'1.a','1','3','R. Vos','the sketch is right','2027-03-09T18:00:00+00:00','84.95 kN');
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
INSERT INTO "step_rows" VALUES(1,'moderations','[1,"1.a"]',1,'','1e33614d30f1c32b90d82b251c8c891a69968b3e93af04d2934602c679c56d9c');
INSERT INTO "step_rows" VALUES(1,'teacher_words','[1,"1.a"]',1,'','277dec8700f632e83d2f8823a31c820776db3b356681fc66bfff5bc1b324607d');
CREATE TABLE steps (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  what TEXT NOT NULL,
  task TEXT NOT NULL,
  who TEXT NOT NULL,
  undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;
INSERT INTO "steps" VALUES(1,'2027-03-09T18:00:00+00:00','moderate','shear-1','R. Vos',0);
CREATE TABLE tasks (
  key TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;
INSERT INTO "tasks" VALUES('shear-1','{"key":"shear-1","title":"Shear and punching","questions":["drain-hole"],"due":"2027-01-22","rules":{"figures":3,"carried_forward":true,"unit_missing":"0.5","rounded_early":"0.5","wrong_unit":"1","power_of_ten":"1","unknown_method":"0","figures_mark":"0","half_marks":true,"ask_below":0.9}}');
CREATE TABLE teacher_words (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask TEXT NOT NULL,
  say ANY NOT NULL,
  criteria TEXT NOT NULL,
  PRIMARY KEY (sheet, ask)
) STRICT, WITHOUT ROWID;
INSERT INTO "teacher_words" VALUES(1,'1.a','Look at the slug once more.','');
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
CREATE TABLE visits (
  id INTEGER PRIMARY KEY,
  student TEXT NOT NULL CHECK (student <> ''),
  day TEXT NOT NULL,
  misconceptions TEXT NOT NULL,
  note TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  at TEXT NOT NULL
) STRICT;
INSERT INTO "visits" VALUES(1,'HB01','2027-03-09','["square-for-circle"]','cut a disc from clay','R. Vos','2027-03-09T18:00:00+00:00');
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
CREATE TRIGGER visit_comes AFTER INSERT ON visits
BEGIN
  SELECT RAISE(ABORT, 'no visit without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'visited', '', NEW.student, '', NULL, NULL, g.who, g.why, NEW.day || ' ' || NEW.misconceptions
  FROM saying AS g;
END;
CREATE TRIGGER visit_stays BEFORE UPDATE ON visits
BEGIN
  SELECT RAISE(ABORT, 'a visit cannot be changed');
END;
CREATE TRIGGER visit_goes AFTER DELETE ON visits
BEGIN
  SELECT RAISE(ABORT, 'no visit without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'visited', '', OLD.student, '', NULL, NULL, g.who, g.why, OLD.day || ' taken back'
  FROM saying AS g;
END;
CREATE TRIGGER words_come AFTER INSERT ON teacher_words
BEGIN
  SELECT RAISE(ABORT, 'no words without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'told', s.task, s.code, NEW.ask, NULL, NULL, g.who, g.why, NEW.say
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;
CREATE TRIGGER words_change AFTER UPDATE ON teacher_words
BEGIN
  SELECT RAISE(ABORT, 'no words without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'told', s.task, s.code, NEW.ask, NULL, NULL, g.who, g.why, NEW.say
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;
CREATE TRIGGER words_go AFTER DELETE ON teacher_words
BEGIN
  SELECT RAISE(ABORT, 'no words without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'told', s.task, s.code, OLD.ask, NULL, NULL, g.who, g.why, ''
  FROM saying AS g, sheets AS s WHERE s.id = OLD.sheet;
END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',39);
INSERT INTO "sqlite_sequence" VALUES('steps',1);
COMMIT;
