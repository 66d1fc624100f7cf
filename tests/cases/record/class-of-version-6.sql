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
INSERT INTO "chain" VALUES(1,'cee2a2526ad5946d','61c2a23a028bdfab0911a430d965eb69f38919810a625b4e1b95e1abfc4d1ec8','0690e3b554f2170b3f051f86c3af0c5999bb454888428133ddc7c3f12db49f24',0);
INSERT INTO "chain" VALUES(2,'0cfed900a66dcea1','98e340575cbac71d77bdfd58d04fc6d3c360853fed813226690ef540f771d96e','3c755c08f19d222e65d85d422c330c7dbd33f6f30eaef78665d754442f894660',0);
INSERT INTO "chain" VALUES(3,'9039c8a84144ccd4','2b25e071e867d046cdb29b9a422617e170bd2720a26ecf955c2a4ca754ca382e','3071948eee72dd20a3c083c1c04e9d422d83e3fbef2f372cb62a6dd907f6db14',0);
INSERT INTO "chain" VALUES(4,'a23f6fe65bd90022','bbf6ef8b7036ee565de36c4da4918f4bb76165d022374f54c25d6d46c5cd99df','183086fcd3947e3a53d01ca2d7599281d4082579732c0c1ab41a4e10b1d1aec6',0);
INSERT INTO "chain" VALUES(5,'64d987a9e52733a5','a5f0edf7cf637464f60047cb52f112231123cbc57e215d3c436861a47a4e0fd4','e544422dee9a082d175672bfe4119fa7ad2331112368ab516014254cc2fa4b31',0);
INSERT INTO "chain" VALUES(6,'b1aaa5d82b868753','c2f94914758cd91e1ca64c2ef38d87bfc481b24409ad296c72ea0769d6de541b','b48837eafb606823b8de2339aaf5837a79118c1b9d7580c7851e729842d3c32c',0);
INSERT INTO "chain" VALUES(7,'f817605670155460','59076a07a2cde2f13eb73a73dfec9ca5fa439f5a9cccb57b6d8c954234feac7c','4d8d7b5cb9b08c6ff5db070940db94eeebda7c03172dc9d4b28aa3daedfc7eb9',0);
INSERT INTO "chain" VALUES(8,'3555560b4b28d68e','7886fee171515de8a43affd9ef46e642b55f6dd8950eba48e2d5a557b1661520','39432871cfbd7b8bc7d6b1d03c8a969900ffe5d651eadc213d7344179a6002f7',0);
INSERT INTO "chain" VALUES(9,'a06bb32ec7095355','7e928c354f61b0efe5c02866e00ffd55b8835c9904be05e82ae139bdd397e03f','a0ba211739e77f109e2c515fa0f7428dbc1bb4a8b9c6e1b7051ebf6333bf0f0a',0);
INSERT INTO "chain" VALUES(10,'03704d71287ab388','4f6aaf6f3e65614f339259954a98ae7f95c62c863e6ebba223e263bffe8091f0','f33e0bc4a03fb52a0a91129c9085913eb5103a02799ca69eaf72c5a20db1ea3e',0);
INSERT INTO "chain" VALUES(11,'2fcbf0e99c2b527d','2fe659378723e65572bc6e26212cae0fb95f680d4817b7605ef6e6cf2165444d','b683fb3f3e5bd3ab23a94946c383122ee9bce990346d8d07cf33ff6700ae5266',0);
INSERT INTO "chain" VALUES(12,'3cbaaa1cf707d753','d8cdfd1dd3410c96110c14f946a9e7e53d6195d10b9bb14d385bb720738c6cb7','cfcc4b02c9803fd7ab07daa9c7f6681c70bfa9b654dbcd0c43e6caa3a3ab45ce',0);
INSERT INTO "chain" VALUES(13,'8b3511ac9c7f7106','db25b94679109731e8088b3bd92c411e2d2c9139b20062ed2d9cb79ce83d7e75','9aa8f11a43d75ceb66dda029bda13c324f5d989effdfaedc86427a3ea5e1801f',0);
INSERT INTO "chain" VALUES(14,'e7eb5549d1611172','d0dad51ce736c35e192d9e8dca1d3d4d2a1b0df553e873a04d16857dc01a3b9b','aa3f307a415e7de39dad97ac482bc03045476ba8e360cd349ad5d8e44ca895eb',0);
INSERT INTO "chain" VALUES(15,'2c36ca036d032cf7','fe8d7bcac6911789e6a812d5c2d8001827af0f4ab20b2f7b1cafd3029192cccb','df710ffbf4316db93f885ff3f88d34dbc077e474aa2e9f817735c23924a48d7c',0);
INSERT INTO "chain" VALUES(16,'dc4bdab138af6ffb','30c418d5ac46b880b69e31658c00a7e6bb5ae1a6ba6f0f5aba0eeb511b552e87','46164e3a50c70fa042516f6e052fa36df5ae51748d6926c147348a532abad984',0);
INSERT INTO "chain" VALUES(17,'aa0212ff6770e191','39553d995f41def13669ac54be99b668fb014350f92f53dd41734c48e7ca9391','55cb4e5ad6a6874526858705e31652774c5f7ba186ac7f157d01d786666d83dc',0);
INSERT INTO "chain" VALUES(18,'e816cd556f22649b','2507fba7cfaa7a991d9408a2d3a085b7d5b75971cfaf90d8938bb68f9dc0e925','910f9f101bd6436918749ed33d362a7d28f487afdafe2b23c6d3dad5a419193b',0);
INSERT INTO "chain" VALUES(19,'c4322f2ecaa0703b','0f1ff2654b28a86261d94abb40dec2b929eb63b3858155acc6e6c549c7a760d8','d0a951da9430d38766bc1783f7d88ea8243a9b49c158ff3dc8ad764b49fd3bd4',0);
INSERT INTO "chain" VALUES(20,'ec6fa036c750a49a','f0aa6a1e1b048ae9ff3be1a2b8e6a69d8251c21d1c41cf5b8ca4f19e2364c3ae','c0d56c681776e4d69ac2b3974ba35e0f2b7538d464ce0aad86c4ad87669ed2ec',0);
INSERT INTO "chain" VALUES(21,'f95ab2996807c460','9af3fbeaf75082c2012a3f5075bf11b4712a9ea16752ef461929bf2b7891e139','7a3538cf15ff9c0779af5b65a29d971f57a13e01ebba24f6ecb73f19838fbaf3',0);
INSERT INTO "chain" VALUES(22,'a08ec09bb4fd88cf','f23a39e245692cc279a79e15a7f5946bcaa827381e09b11e3d41fe1325536a70','757fb8ca5193abb206b5ace65feb1198b923185707b992f7afdb69c1cb76f901',0);
INSERT INTO "chain" VALUES(23,'2fa2be81a9e9e88a','74802a60f3c2560cc54f5a5a241a063d8d467b26da487151ab0829076ca4f853','011429a6d6e56dba15ede75f7aa0408e496996fe0da227bae515274d80e1c047',0);
INSERT INTO "chain" VALUES(24,'f1217c75f35636b1','33c976448df62b7fc310ac45d7bc0d0a1e51051d8d2ad1db7f60b78eda5e47ea','001225d49690061acefaefe4c7ddc3e0dae4000a1f93d0cb5f4cf9fb73ed820e',0);
INSERT INTO "chain" VALUES(25,'ca5eb9eee80d1e8f','70b286b6274d711aa1eeb72c166f7d23929d0cceca37f2e7d639e743dc1bd4f9','d147113a6406c84edb9779013e8d023e0b5b41fe8a0c998402360b870756305b',0);
INSERT INTO "chain" VALUES(26,'3511e9554cb62d2e','222e28b6b50a88b4e606d3347dd743499dc663c0b68a4d9ef63c4f5f760000b4','f7f1b04ca9b025b4d3e71fd6e556137a474003781d4619c9da56b25c56d381ac',0);
INSERT INTO "chain" VALUES(27,'e7ad964165dbac2b','651a94cbdf607e5f522164d352390b289feb63d7ed6c3569c6a5e5a0f2254a4d','1f22de1ca83a1642b02c07f30359c721f7b8a3809a8f94454f0e0fdd4c68542f',0);
INSERT INTO "chain" VALUES(28,'2dc9e52ef74db51d','fe806cc14cd357f0425624829e15597da501ed288bf9e8821776f6c4c8502cb1','0961fa24c12e9ab2955c6e58f6ca28de2c3ab7ef78fe382c49def070873448d4',0);
INSERT INTO "chain" VALUES(29,'25fa2aba24a2d844','ab2a3938f5ad148f6811a22962c813939edf457007bfb6ed6827b40bc720225b','14a6b2e11a10d0405daf635ceacfc2ca92b66931a6631dc4b44ab5fd7ac87c1e',0);
INSERT INTO "chain" VALUES(30,'3347d904b723a653','f66e9e5349232588a416fc308ca8566f38f802d03afd469360e67d8bd93ab861','68cdb8ae4b44b2c2cf4c548b6a6d7f8b36dd53d274639e34c5f16ec0bd6ca4b8',0);
INSERT INTO "chain" VALUES(31,'3051b4ef333abb55','d11a2ca0ea36f97a5341011a7a7ee37716ebb1da984f7fbde000e9a4499f3513','864367148f5b1415c7c7c077f6507cfe5de4e6b7479cfd30f3af005a3e051f3f',0);
INSERT INTO "chain" VALUES(32,'d060e34152697042','8da41a94544d58b9f46a13aac3f165a71523ee91761d1fda5e0c82c19a8cb991','ccb71517eb6672b78a4547090b33e551050d5f628bcad2860aae310a8d0b0871',0);
INSERT INTO "chain" VALUES(33,'944b1ee014968f56','2a5618bed0431730dc92e1b5adb24b15c935ef047783af3e25a2fe0db57ac57d','e71ae780526e14fa71aa9d30c0300a218739f3591aebe0c97383e279f4ca4cca',0);
INSERT INTO "chain" VALUES(34,'41a321c89c6cb8e3','c95bd015a8e3ff1f38ebbdc77bc2b127167a71ec2183101e2a57fa38a8465a30','e4be27a39b4a2c75b60760a73355d99aeec7162278e3a9b3926087913fd0ec61',0);
INSERT INTO "chain" VALUES(35,'3aa00a1574788e3b','42cb0d861adfc8e5cc6ef601a3991ee75cb8eb7f231fa049a15ed83198150494','19f4960cca9d3798028d1d7d5003244fb030c1465be7fc38dc1d6221eb57abd2',0);
INSERT INTO "chain" VALUES(36,'4320e7f4255a37c1','c37da35e2615b3ee6ef1fa84796a83dae5c191796e6ea33dac3fac49a1d2fd13','a1aa0a4c106cc22777f4016a43d8ace4999b4b528b36066d25c245e5b6334224',0);
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
CREATE TABLE visits (
  id INTEGER PRIMARY KEY,
  student TEXT NOT NULL CHECK (student <> ''),
  day TEXT NOT NULL,
  misconceptions TEXT NOT NULL,
  note TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  at TEXT NOT NULL
) STRICT;
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
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',36);
COMMIT;
PRAGMA application_id = 1464685131;
PRAGMA user_version = 6;
