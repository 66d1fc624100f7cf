-- A class as version 8 kept it (the class of version 3, brought up to date, with a visit, more time for one and a mark that a teacher gave with words), as statements that make it again.
PRAGMA user_version = 8;
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
CREATE TABLE arrangements (
  task TEXT NOT NULL,
  student TEXT NOT NULL CHECK (student <> ''),
  kind TEXT NOT NULL,
  sheet TEXT NOT NULL,
  value TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL,
  PRIMARY KEY (task, student, kind, sheet)
) STRICT, WITHOUT ROWID;
INSERT INTO "arrangements" VALUES('shear-1','HB01','extended','','2027-03-12','R. Vos','the yard was flooded','2027-03-09T18:00:00+00:00');
CREATE TABLE chain (
  row INTEGER PRIMARY KEY,
  salt TEXT NOT NULL,
  content TEXT NOT NULL,
  link TEXT NOT NULL,
  removed INTEGER NOT NULL DEFAULT 0
) STRICT;
INSERT INTO "chain" VALUES(1,'ff889ec97a7ba187','8430623c5595613dc72d6df7f175fba551cdafbad1b505ef92b95cfb57f779d5','4ffb8ef02bc8bafb30519a024da4e844ed5731a9a5928af41c339e86af0e770d',0);
INSERT INTO "chain" VALUES(2,'71619a73023f89c8','d535ee2b601703071b8d426ce85b4c28275feb02928b1451ec8e5beee424af39','759b5fe3d377ddc5517a59b08833e23ec1d766ea39222d9a6f4f0a0a338028ff',0);
INSERT INTO "chain" VALUES(3,'1a4249580c895bdf','a1c6d5e81f80043663b34ad6970da53a0f85039a922024082f592a6fa7561361','b6a7ec3bf37f3283efb2eed0a0f3754ae872a1a4df494f84cfc7baf2074d5c9e',0);
INSERT INTO "chain" VALUES(4,'08a09cf36500f415','bff6815c15296630a20dac699ec9c1ab9365fa2fbdc7c03ab38a380b30283c33','38b651f4913f1271a3639aa7d134a5d7a64eea88145e614b8e25523d8fd3b9e5',0);
INSERT INTO "chain" VALUES(5,'d02dd7091383b676','44a0e3a9b4cd204d07b2ce0383cdf69266238396ebd9d37cbaafc7b2038d8bb7','6947ce32562eea8fc233333997f98ae19d8c093b51b5c8c7aa8763bbba236ff4',0);
INSERT INTO "chain" VALUES(6,'6be647d8848237ad','58619cbc72fc6e26f255c2963f25277c21f16f56233ac3de99310cc068ea6c33','8c0ac17a1ee13d1a5698e7d19fa2e18f2e377bd1d814197ae7ea64b7899eff99',0);
INSERT INTO "chain" VALUES(7,'f90b07a9303aec1d','5d3e3ef10f331a82f4377a9016a4d7859e8bcce49906b79e147a4b1cbeb2d45e','3f51f3c5df3635653223e5f486cf5b8977d573dd304a6cc8d7cd1037aff74058',0);
INSERT INTO "chain" VALUES(8,'cf0095b2333a4c49','c0dcddfbf8a57bae54ce4ecb96341ac3ec4ba73ac4c691b6fbba3eb3c7a08abd','67fbd1a9ddcce9363507a202491fee56162d5662550824f65953f5af8a2934fa',0);
INSERT INTO "chain" VALUES(9,'8698a319e5b03ece','29ae2bee5bd19f183fdcaeccbaf460025b4a90a1cdd15a68f20beb9da1d24d51','e8bbb8965ec188a444e76add222f19d526712839dfd7c140c90ac8015ab4307a',0);
INSERT INTO "chain" VALUES(10,'5be3000ef56a3608','6da2d71c755e0075074ae7853c307f646a3b47e79490cb7fe3a676da38d18896','7b9eb4fc21c50ba3c92f42c957bcf1e3c935f4f03041f502c2334d7e29573d23',0);
INSERT INTO "chain" VALUES(11,'1fc4128e437c9b96','cea42c294675521bf94ef93f5dd84773e77c0ce6fe6d5fe593ba3780caa4a03e','88da17a2b5c8dcaa1a4713485b328f17125ae6dc62ce5000498d906868cbe1b1',0);
INSERT INTO "chain" VALUES(12,'709edc522a7381db','7deed5f53d2575fa112b819b6f3c642a12820904ded3eeb1c50a9d371524a310','3d855a2557445fba6eab0ff851d2b09a7ef9b58480a6f80bf7c833b87fe3662e',0);
INSERT INTO "chain" VALUES(13,'6dbd03ed8a73d43a','22ed6b80777e4c376c43ac6a3a6707e01fcaea4f055e716dc6032b262b90ecf0','6a150e1d1e429c8a1154ba12ecc2c294944048768dffc6184670a6b9981ae4da',0);
INSERT INTO "chain" VALUES(14,'137970b1bb26b76f','6c7b0611b67d1d148452ea7f03f8f7af3fc80b03914f7e157631848c0bf3b27f','a2afdcb9706024e661115d5a6a1eeed455566d319ad276dda888f8f9e49347d3',0);
INSERT INTO "chain" VALUES(15,'647db737b94d5661','a9844474d67d3e39465f908e95b3b38ef98acf9247cb7884cb338348e9c9b07b','3b18169066c185489d2dee7b504d990ecb1a77ba065f7916e632a500a466e5b2',0);
INSERT INTO "chain" VALUES(16,'602cd48af762ac33','ef2bcbe687f13bb896a6818753986052288dc70f4f4c809d856462b6f5770c06','a72fc413937d08aeed95905828c8bf356d6066683f7aea027be4b2d7670a582d',0);
INSERT INTO "chain" VALUES(17,'381258f187445929','56c9bd4a93ce224225558730ad1d26a887fc92b39e615df878477bafeaa7c7c8','f706642e75f50b781be274df34eff0516889177a656c107b36edb66863a3a5ea',0);
INSERT INTO "chain" VALUES(18,'6acf1fe17128272d','e2f6442c81834f80da3df1f191e9c09ab4e3e0a600537af392ee70ee95190a26','75821f13dac709ad3d2dd52ca076a42b2c8ee47a2157f84a85ca9d265c9a4a58',0);
INSERT INTO "chain" VALUES(19,'f24f7a97ba308320','572c524f7d30b216d9a8c40561c5327e8a9c55da55571327f45f3e636b7acd76','36405e89c685f6794bec868b1ca1dfaa3882076c23d92ccb4f5868635ecfc0cf',0);
INSERT INTO "chain" VALUES(20,'f416e6c5efccfc86','a3e034e41b9e18276deb878c73723cfc89fc7c02c7816e901dde216e78a810f4','d4a8b6d99623bf7f3a9edf9db4bebbe9fcce6437481e2e3fcf69c4810aa0904e',0);
INSERT INTO "chain" VALUES(21,'93ec55a51627ce1e','3da852689a90cf73cc9d3f7fb30998c0767b1abc4a30bdc324ca346d241e892e','0b97dabcc68d73a92421cf78ba0be3986de17c229103a92b12782713f8917684',0);
INSERT INTO "chain" VALUES(22,'3c41b4671a4c3ade','c6c4e6f6070f530b8123ac6260dcf8760b8ecd1cec08470444f892829ebcd660','921d5e9b2f5f9ee99dd3810b1d42655b3d2b3d5d311604ad82274b79e877ca0e',0);
INSERT INTO "chain" VALUES(23,'45ce0114dfb34e54','355ab5f244860981bd40e37daa28d1dac92a47fbc8be27d0c7180aefdd5b415f','4aa3dc5a4f094a0dc89b6333710e9bb7588741188fcd76057a3f72f9cf3c871c',0);
INSERT INTO "chain" VALUES(24,'69b322d5051c9cad','83e1cd6c485fa3fdae028877221c5ce63f047d6a3cebde9d45f61697762dda45','57fd434b52cdf6b23cf480c848b623016f28b27101d3391565cc288cc1e1acb4',0);
INSERT INTO "chain" VALUES(25,'53e79c237e8c3db6','6372b5d95a94a978eabaa707d7483e085e234ca3f1e667cb7a659eb7efa88cae','8d71a1de74cdae9894679970d21f934054d0552507bda7f8b99f1a1141b5eae4',0);
INSERT INTO "chain" VALUES(26,'0087d33aad94b9a7','2fe4ee285c281fa4ac3087fd827adad56b000d513659d2f8a01f23aa87673596','6e8e447397db580aa5192cbfaa2baf64c0f52182f8603c19976083c2ece453e8',0);
INSERT INTO "chain" VALUES(27,'ebbf05ba80774ba8','9bd552b0730b5d0d2af078986ee8ad94ba1c348bfdfbdb84d5bcfb4a2b82d8f0','d52ca5c66c50ca0d8a1699360b297dbe28da90e1077f2c375b2770a7d82a8134',0);
INSERT INTO "chain" VALUES(28,'b13d8cf0c49a0c90','2e31104a1b1e65916d4b1ec3245c9d3feb470ba02713dfb4a5d420ae78e205b8','7ff22a3c51c475804cac117548d3413afa38a6ac21a40a214239734eb83196c0',0);
INSERT INTO "chain" VALUES(29,'f1e6fa3b9167a966','1b0c90683fd566bbc7dfcbc84f068bc62323a4bb7f960f1dd17da115c1b27ab0','1ad0f306e433139c3148ae72cc71842c9dc8d56a1b84feec3f87846d101af1be',0);
INSERT INTO "chain" VALUES(30,'750b0ffd6bf25ddf','d92ebb8934f218f7c512fc0018fcbe3a5c801a0441c61575a57104277560455f','bf7ac629748ff9f456055b2f3adc67425c495a7cad31207bc8d3f2f6d5277942',0);
INSERT INTO "chain" VALUES(31,'1723203795af5c7c','aaf610e457410c303610949e7b2236b6e5195143c55bd6b3c2d77e4220160cf6','2f330e3897a7961f4d61ced546bfb176f2285af11baa8f197ec1ca3884c5c681',0);
INSERT INTO "chain" VALUES(32,'7a2d53415f7e4ef5','0fa65b8b370f850bd15d586790ffaf0c5e7297774572699dc11e776fb920c97e','2e2e96ceeb0a285920280c121c1747a31b2d3a7f056699af63c2ccad0f9430a8',0);
INSERT INTO "chain" VALUES(33,'4e37ec5ace58e48e','39bb8d6df569540b113e89e3cd4c5f80c367699291533d1afc8f72e17ca8a668','6ccef873e83daf9e89ca408135d4e4bbee961626ed894823135ebdd75ecfda90',0);
INSERT INTO "chain" VALUES(34,'bea34c4e8f966094','11e6ec64f87e9419f2e79144fe1ac8cca4e6246b02fd84ffa4e606247131c6b8','e0f0479dd0b63694a4d954291db14a476c3195865aa3395491a391539af425a6',0);
INSERT INTO "chain" VALUES(35,'caac6c7c63a5cf85','2436a6cf06340f90c288e88dff478ffb35ff0cb3985c3385cea17d26b1882e26','54bbe79fd6a8432908fef55bf2b3c8de2a939f5816175ffbf0e33c79fafe9837',0);
INSERT INTO "chain" VALUES(36,'f84f40218acd70f5','6413d87843c10f886395a92ff4e15456c5521cf7623caa9892eadc1a135dda3e','6d985cc36f7783f7c0a8184acca71596d1acc37179e2d73f1d03e288355ee1b0',0);
INSERT INTO "chain" VALUES(37,'a851e6e89aa030f3','9084447055c31697cc065393115e3c1c8d5af30fa3c375d5d13c05f4944a46d1','71bba67d104b8ea7d6ceef4037a683ec7f475ee74948f9fde620cdbe35ecfc92',0);
INSERT INTO "chain" VALUES(38,'a77a369d45107e77','ca47c067d0cc06eef5086fc72ac2a22bcd9ef8d436c6a80c680158978e7b2ac9','f0577ad576fc96235a92bd97a4ab0fba91ce0797b650b491b8bbac9ea5666979',0);
INSERT INTO "chain" VALUES(39,'a3dee1ea5624daaf','1175e8a814bf0a959e8105bb5c1430e58d3d46c0f562bf9ce37682b8e9bb4bee','ff5ab8acd41e77ba8661b205010f5641f96ede00450a8fac0bbec17cdbda58ec',0);
INSERT INTO "chain" VALUES(40,'c023180e9fb897f7','530a27616adaeddbdabc32f218ae72c69dce86d146f547fa8005af3dd8182a5e','eee464662a6a0237b78711cde1030bf2a28f64a8cdc85439753e058616674a77',0);
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
INSERT INTO "journal" VALUES(40,'2027-03-09T18:00:00+00:00','arranged','shear-1','HB01','',NULL,NULL,'R. Vos','the yard was flooded','extended||2027-03-12','');
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
CREATE TRIGGER arrangement_comes AFTER INSERT ON arrangements
BEGIN
  SELECT RAISE(ABORT, 'no arrangement without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'arranged', NEW.task, NEW.student, '', NULL, NULL, g.who, g.why,
    NEW.kind || '|' || NEW.sheet || '|' || NEW.value
  FROM saying AS g;
END;
CREATE TRIGGER arrangement_stays BEFORE UPDATE OF task, student, kind, sheet ON arrangements
WHEN OLD.task <> NEW.task OR OLD.student <> NEW.student OR OLD.kind <> NEW.kind OR OLD.sheet <> NEW.sheet
BEGIN
  SELECT RAISE(ABORT, 'an arrangement stays with its student');
END;
CREATE TRIGGER arrangement_changes AFTER UPDATE ON arrangements
BEGIN
  SELECT RAISE(ABORT, 'no arrangement without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'arranged', NEW.task, NEW.student, '', NULL, NULL, g.who, g.why,
    NEW.kind || '|' || NEW.sheet || '|' || NEW.value
  FROM saying AS g;
END;
CREATE TRIGGER arrangement_goes AFTER DELETE ON arrangements
BEGIN
  SELECT RAISE(ABORT, 'no arrangement without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'arranged', OLD.task, OLD.student, '', NULL, NULL, g.who, g.why,
    OLD.kind || '|' || OLD.sheet || '|'
  FROM saying AS g;
END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',40);
INSERT INTO "sqlite_sequence" VALUES('steps',1);
COMMIT;
