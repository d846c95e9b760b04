BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
INSERT INTO "auth_permission" VALUES(1,1,'add_submission','Can add submission');
INSERT INTO "auth_permission" VALUES(2,1,'change_submission','Can change submission');
INSERT INTO "auth_permission" VALUES(3,1,'delete_submission','Can delete submission');
INSERT INTO "auth_permission" VALUES(4,1,'view_submission','Can view submission');
INSERT INTO "auth_permission" VALUES(5,2,'add_studio','Can add studio');
INSERT INTO "auth_permission" VALUES(6,2,'change_studio','Can change studio');
INSERT INTO "auth_permission" VALUES(7,2,'delete_studio','Can delete studio');
INSERT INTO "auth_permission" VALUES(8,2,'view_studio','Can view studio');
INSERT INTO "auth_permission" VALUES(9,3,'add_user','Can add user');
INSERT INTO "auth_permission" VALUES(10,3,'change_user','Can change user');
INSERT INTO "auth_permission" VALUES(11,3,'delete_user','Can delete user');
INSERT INTO "auth_permission" VALUES(12,3,'view_user','Can view user');
INSERT INTO "auth_permission" VALUES(13,4,'add_signinattempt','Can add sign in attempt');
INSERT INTO "auth_permission" VALUES(14,4,'change_signinattempt','Can change sign in attempt');
INSERT INTO "auth_permission" VALUES(15,4,'delete_signinattempt','Can delete sign in attempt');
INSERT INTO "auth_permission" VALUES(16,4,'view_signinattempt','Can view sign in attempt');
INSERT INTO "auth_permission" VALUES(17,5,'add_movement','Can add movement');
INSERT INTO "auth_permission" VALUES(18,5,'change_movement','Can change movement');
INSERT INTO "auth_permission" VALUES(19,5,'delete_movement','Can delete movement');
INSERT INTO "auth_permission" VALUES(20,5,'view_movement','Can view movement');
INSERT INTO "auth_permission" VALUES(21,6,'add_offer','Can add offer');
INSERT INTO "auth_permission" VALUES(22,6,'change_offer','Can change offer');
INSERT INTO "auth_permission" VALUES(23,6,'delete_offer','Can delete offer');
INSERT INTO "auth_permission" VALUES(24,6,'view_offer','Can view offer');
INSERT INTO "auth_permission" VALUES(25,7,'add_order','Can add order');
INSERT INTO "auth_permission" VALUES(26,7,'change_order','Can change order');
INSERT INTO "auth_permission" VALUES(27,7,'delete_order','Can delete order');
INSERT INTO "auth_permission" VALUES(28,7,'view_order','Can view order');
INSERT INTO "auth_permission" VALUES(29,8,'add_orderline','Can add order line');
INSERT INTO "auth_permission" VALUES(30,8,'change_orderline','Can change order line');
INSERT INTO "auth_permission" VALUES(31,8,'delete_orderline','Can delete order line');
INSERT INTO "auth_permission" VALUES(32,8,'view_orderline','Can view order line');
INSERT INTO "auth_permission" VALUES(33,9,'add_reservation','Can add reservation');
INSERT INTO "auth_permission" VALUES(34,9,'change_reservation','Can change reservation');
INSERT INTO "auth_permission" VALUES(35,9,'delete_reservation','Can delete reservation');
INSERT INTO "auth_permission" VALUES(36,9,'view_reservation','Can view reservation');
INSERT INTO "auth_permission" VALUES(37,10,'add_supplier','Can add supplier');
INSERT INTO "auth_permission" VALUES(38,10,'change_supplier','Can change supplier');
INSERT INTO "auth_permission" VALUES(39,10,'delete_supplier','Can delete supplier');
INSERT INTO "auth_permission" VALUES(40,10,'view_supplier','Can view supplier');
INSERT INTO "auth_permission" VALUES(41,11,'add_colour','Can add colour');
INSERT INTO "auth_permission" VALUES(42,11,'change_colour','Can change colour');
INSERT INTO "auth_permission" VALUES(43,11,'delete_colour','Can delete colour');
INSERT INTO "auth_permission" VALUES(44,11,'view_colour','Can view colour');
INSERT INTO "auth_permission" VALUES(45,12,'add_item','Can add item');
INSERT INTO "auth_permission" VALUES(46,12,'change_item','Can change item');
INSERT INTO "auth_permission" VALUES(47,12,'delete_item','Can delete item');
INSERT INTO "auth_permission" VALUES(48,12,'view_item','Can view item');
INSERT INTO "auth_permission" VALUES(49,13,'add_countline','Can add count line');
INSERT INTO "auth_permission" VALUES(50,13,'change_countline','Can change count line');
INSERT INTO "auth_permission" VALUES(51,13,'delete_countline','Can delete count line');
INSERT INTO "auth_permission" VALUES(52,13,'view_countline','Can view count line');
INSERT INTO "auth_permission" VALUES(53,14,'add_countsheet','Can add count sheet');
INSERT INTO "auth_permission" VALUES(54,14,'change_countsheet','Can change count sheet');
INSERT INTO "auth_permission" VALUES(55,14,'delete_countsheet','Can delete count sheet');
INSERT INTO "auth_permission" VALUES(56,14,'view_countsheet','Can view count sheet');
INSERT INTO "auth_permission" VALUES(57,15,'add_lot','Can add lot');
INSERT INTO "auth_permission" VALUES(58,15,'change_lot','Can change lot');
INSERT INTO "auth_permission" VALUES(59,15,'delete_lot','Can delete lot');
INSERT INTO "auth_permission" VALUES(60,15,'view_lot','Can view lot');
INSERT INTO "auth_permission" VALUES(61,16,'add_shelfrules','Can add shelf rules');
INSERT INTO "auth_permission" VALUES(62,16,'change_shelfrules','Can change shelf rules');
INSERT INTO "auth_permission" VALUES(63,16,'delete_shelfrules','Can delete shelf rules');
INSERT INTO "auth_permission" VALUES(64,16,'view_shelfrules','Can view shelf rules');
INSERT INTO "auth_permission" VALUES(65,17,'add_spreadsheet','Can add spreadsheet');
INSERT INTO "auth_permission" VALUES(66,17,'change_spreadsheet','Can change spreadsheet');
INSERT INTO "auth_permission" VALUES(67,17,'delete_spreadsheet','Can delete spreadsheet');
INSERT INTO "auth_permission" VALUES(68,17,'view_spreadsheet','Can view spreadsheet');
INSERT INTO "auth_permission" VALUES(69,18,'add_doublerecipe','Can add double recipe');
INSERT INTO "auth_permission" VALUES(70,18,'change_doublerecipe','Can change double recipe');
INSERT INTO "auth_permission" VALUES(71,18,'delete_doublerecipe','Can delete double recipe');
INSERT INTO "auth_permission" VALUES(72,18,'view_doublerecipe','Can view double recipe');
INSERT INTO "auth_permission" VALUES(73,19,'add_kit','Can add kit');
INSERT INTO "auth_permission" VALUES(74,19,'change_kit','Can change kit');
INSERT INTO "auth_permission" VALUES(75,19,'delete_kit','Can delete kit');
INSERT INTO "auth_permission" VALUES(76,19,'view_kit','Can view kit');
INSERT INTO "auth_permission" VALUES(77,20,'add_kitpromise','Can add kit promise');
INSERT INTO "auth_permission" VALUES(78,20,'change_kitpromise','Can change kit promise');
INSERT INTO "auth_permission" VALUES(79,20,'delete_kitpromise','Can delete kit promise');
INSERT INTO "auth_permission" VALUES(80,20,'view_kitpromise','Can view kit promise');
INSERT INTO "auth_permission" VALUES(81,21,'add_kitmovement','Can add kit movement');
INSERT INTO "auth_permission" VALUES(82,21,'change_kitmovement','Can change kit movement');
INSERT INTO "auth_permission" VALUES(83,21,'delete_kitmovement','Can delete kit movement');
INSERT INTO "auth_permission" VALUES(84,21,'view_kitmovement','Can view kit movement');
INSERT INTO "auth_permission" VALUES(85,22,'add_rates','Can add rates');
INSERT INTO "auth_permission" VALUES(86,22,'change_rates','Can change rates');
INSERT INTO "auth_permission" VALUES(87,22,'delete_rates','Can delete rates');
INSERT INTO "auth_permission" VALUES(88,22,'view_rates','Can view rates');
INSERT INTO "auth_permission" VALUES(89,23,'add_favourite','Can add favourite');
INSERT INTO "auth_permission" VALUES(90,23,'change_favourite','Can change favourite');
INSERT INTO "auth_permission" VALUES(91,23,'delete_favourite','Can delete favourite');
INSERT INTO "auth_permission" VALUES(92,23,'view_favourite','Can view favourite');
INSERT INTO "auth_permission" VALUES(93,24,'add_inflateddiameter','Can add inflated diameter');
INSERT INTO "auth_permission" VALUES(94,24,'change_inflateddiameter','Can change inflated diameter');
INSERT INTO "auth_permission" VALUES(95,24,'delete_inflateddiameter','Can delete inflated diameter');
INSERT INTO "auth_permission" VALUES(96,24,'view_inflateddiameter','Can view inflated diameter');
INSERT INTO "auth_permission" VALUES(97,25,'add_acceptance','Can add acceptance');
INSERT INTO "auth_permission" VALUES(98,25,'change_acceptance','Can change acceptance');
INSERT INTO "auth_permission" VALUES(99,25,'delete_acceptance','Can delete acceptance');
INSERT INTO "auth_permission" VALUES(100,25,'view_acceptance','Can view acceptance');
INSERT INTO "auth_permission" VALUES(101,26,'add_amountdue','Can add amount due');
INSERT INTO "auth_permission" VALUES(102,26,'change_amountdue','Can change amount due');
INSERT INTO "auth_permission" VALUES(103,26,'delete_amountdue','Can delete amount due');
INSERT INTO "auth_permission" VALUES(104,26,'view_amountdue','Can view amount due');
INSERT INTO "auth_permission" VALUES(105,27,'add_booking','Can add booking');
INSERT INTO "auth_permission" VALUES(106,27,'change_booking','Can change booking');
INSERT INTO "auth_permission" VALUES(107,27,'delete_booking','Can delete booking');
INSERT INTO "auth_permission" VALUES(108,27,'view_booking','Can view booking');
INSERT INTO "auth_permission" VALUES(109,28,'add_client','Can add client');
INSERT INTO "auth_permission" VALUES(110,28,'change_client','Can change client');
INSERT INTO "auth_permission" VALUES(111,28,'delete_client','Can delete client');
INSERT INTO "auth_permission" VALUES(112,28,'view_client','Can view client');
INSERT INTO "auth_permission" VALUES(113,29,'add_historyentry','Can add history entry');
INSERT INTO "auth_permission" VALUES(114,29,'change_historyentry','Can change history entry');
INSERT INTO "auth_permission" VALUES(115,29,'delete_historyentry','Can delete history entry');
INSERT INTO "auth_permission" VALUES(116,29,'view_historyentry','Can view history entry');
INSERT INTO "auth_permission" VALUES(117,30,'add_piece','Can add piece');
INSERT INTO "auth_permission" VALUES(118,30,'change_piece','Can change piece');
INSERT INTO "auth_permission" VALUES(119,30,'delete_piece','Can delete piece');
INSERT INTO "auth_permission" VALUES(120,30,'view_piece','Can view piece');
INSERT INTO "auth_permission" VALUES(121,31,'add_quote','Can add quote');
INSERT INTO "auth_permission" VALUES(122,31,'change_quote','Can change quote');
INSERT INTO "auth_permission" VALUES(123,31,'delete_quote','Can delete quote');
INSERT INTO "auth_permission" VALUES(124,31,'view_quote','Can view quote');
INSERT INTO "auth_permission" VALUES(125,32,'add_quotematerial','Can add quote material');
INSERT INTO "auth_permission" VALUES(126,32,'change_quotematerial','Can change quote material');
INSERT INTO "auth_permission" VALUES(127,32,'delete_quotematerial','Can delete quote material');
INSERT INTO "auth_permission" VALUES(128,32,'view_quotematerial','Can view quote material');
INSERT INTO "auth_permission" VALUES(129,33,'add_quoteopening','Can add quote opening');
INSERT INTO "auth_permission" VALUES(130,33,'change_quoteopening','Can change quote opening');
INSERT INTO "auth_permission" VALUES(131,33,'delete_quoteopening','Can delete quote opening');
INSERT INTO "auth_permission" VALUES(132,33,'view_quoteopening','Can view quote opening');
INSERT INTO "auth_permission" VALUES(133,34,'add_quotepiece','Can add quote piece');
INSERT INTO "auth_permission" VALUES(134,34,'change_quotepiece','Can change quote piece');
INSERT INTO "auth_permission" VALUES(135,34,'delete_quotepiece','Can delete quote piece');
INSERT INTO "auth_permission" VALUES(136,34,'view_quotepiece','Can view quote piece');
INSERT INTO "auth_permission" VALUES(137,35,'add_photo','Can add photo');
INSERT INTO "auth_permission" VALUES(138,35,'change_photo','Can change photo');
INSERT INTO "auth_permission" VALUES(139,35,'delete_photo','Can delete photo');
INSERT INTO "auth_permission" VALUES(140,35,'view_photo','Can view photo');
INSERT INTO "auth_permission" VALUES(141,36,'add_sketch','Can add sketch');
INSERT INTO "auth_permission" VALUES(142,36,'change_sketch','Can change sketch');
INSERT INTO "auth_permission" VALUES(143,36,'delete_sketch','Can delete sketch');
INSERT INTO "auth_permission" VALUES(144,36,'view_sketch','Can view sketch');
INSERT INTO "auth_permission" VALUES(145,37,'add_materialswap','Can add material swap');
INSERT INTO "auth_permission" VALUES(146,37,'change_materialswap','Can change material swap');
INSERT INTO "auth_permission" VALUES(147,37,'delete_materialswap','Can delete material swap');
INSERT INTO "auth_permission" VALUES(148,37,'view_materialswap','Can view material swap');
INSERT INTO "auth_permission" VALUES(149,38,'add_wrapup','Can add wrap up');
INSERT INTO "auth_permission" VALUES(150,38,'change_wrapup','Can change wrap up');
INSERT INTO "auth_permission" VALUES(151,38,'delete_wrapup','Can delete wrap up');
INSERT INTO "auth_permission" VALUES(152,38,'view_wrapup','Can view wrap up');
INSERT INTO "auth_permission" VALUES(153,39,'add_pulltick','Can add pull tick');
INSERT INTO "auth_permission" VALUES(154,39,'change_pulltick','Can change pull tick');
INSERT INTO "auth_permission" VALUES(155,39,'delete_pulltick','Can delete pull tick');
INSERT INTO "auth_permission" VALUES(156,39,'view_pulltick','Can view pull tick');
INSERT INTO "auth_permission" VALUES(157,40,'add_wrapupline','Can add wrap up line');
INSERT INTO "auth_permission" VALUES(158,40,'change_wrapupline','Can change wrap up line');
INSERT INTO "auth_permission" VALUES(159,40,'delete_wrapupline','Can delete wrap up line');
INSERT INTO "auth_permission" VALUES(160,40,'view_wrapupline','Can view wrap up line');
INSERT INTO "auth_permission" VALUES(161,41,'add_numberseries','Can add number series');
INSERT INTO "auth_permission" VALUES(162,41,'change_numberseries','Can change number series');
INSERT INTO "auth_permission" VALUES(163,41,'delete_numberseries','Can delete number series');
INSERT INTO "auth_permission" VALUES(164,41,'view_numberseries','Can view number series');
INSERT INTO "auth_permission" VALUES(165,42,'add_creditmove','Can add credit move');
INSERT INTO "auth_permission" VALUES(166,42,'change_creditmove','Can change credit move');
INSERT INTO "auth_permission" VALUES(167,42,'delete_creditmove','Can delete credit move');
INSERT INTO "auth_permission" VALUES(168,42,'view_creditmove','Can view credit move');
INSERT INTO "auth_permission" VALUES(169,43,'add_invoice','Can add invoice');
INSERT INTO "auth_permission" VALUES(170,43,'change_invoice','Can change invoice');
INSERT INTO "auth_permission" VALUES(171,43,'delete_invoice','Can delete invoice');
INSERT INTO "auth_permission" VALUES(172,43,'view_invoice','Can view invoice');
INSERT INTO "auth_permission" VALUES(173,44,'add_creditnote','Can add credit note');
INSERT INTO "auth_permission" VALUES(174,44,'change_creditnote','Can change credit note');
INSERT INTO "auth_permission" VALUES(175,44,'delete_creditnote','Can delete credit note');
INSERT INTO "auth_permission" VALUES(176,44,'view_creditnote','Can view credit note');
INSERT INTO "auth_permission" VALUES(177,45,'add_invoiceline','Can add invoice line');
INSERT INTO "auth_permission" VALUES(178,45,'change_invoiceline','Can change invoice line');
INSERT INTO "auth_permission" VALUES(179,45,'delete_invoiceline','Can delete invoice line');
INSERT INTO "auth_permission" VALUES(180,45,'view_invoiceline','Can view invoice line');
INSERT INTO "auth_permission" VALUES(181,46,'add_moneyterms','Can add money terms');
INSERT INTO "auth_permission" VALUES(182,46,'change_moneyterms','Can change money terms');
INSERT INTO "auth_permission" VALUES(183,46,'delete_moneyterms','Can delete money terms');
INSERT INTO "auth_permission" VALUES(184,46,'view_moneyterms','Can view money terms');
INSERT INTO "auth_permission" VALUES(185,47,'add_payment','Can add payment');
INSERT INTO "auth_permission" VALUES(186,47,'change_payment','Can change payment');
INSERT INTO "auth_permission" VALUES(187,47,'delete_payment','Can delete payment');
INSERT INTO "auth_permission" VALUES(188,47,'view_payment','Can view payment');
INSERT INTO "auth_permission" VALUES(189,48,'add_entry','Can add entry');
INSERT INTO "auth_permission" VALUES(190,48,'change_entry','Can change entry');
INSERT INTO "auth_permission" VALUES(191,48,'delete_entry','Can delete entry');
INSERT INTO "auth_permission" VALUES(192,48,'view_entry','Can view entry');
INSERT INTO "auth_permission" VALUES(193,49,'add_posting','Can add posting');
INSERT INTO "auth_permission" VALUES(194,49,'change_posting','Can change posting');
INSERT INTO "auth_permission" VALUES(195,49,'delete_posting','Can delete posting');
INSERT INTO "auth_permission" VALUES(196,49,'view_posting','Can view posting');
INSERT INTO "auth_permission" VALUES(197,50,'add_refund','Can add refund');
INSERT INTO "auth_permission" VALUES(198,50,'change_refund','Can change refund');
INSERT INTO "auth_permission" VALUES(199,50,'delete_refund','Can delete refund');
INSERT INTO "auth_permission" VALUES(200,50,'view_refund','Can view refund');
INSERT INTO "auth_permission" VALUES(201,51,'add_permission','Can add permission');
INSERT INTO "auth_permission" VALUES(202,51,'change_permission','Can change permission');
INSERT INTO "auth_permission" VALUES(203,51,'delete_permission','Can delete permission');
INSERT INTO "auth_permission" VALUES(204,51,'view_permission','Can view permission');
INSERT INTO "auth_permission" VALUES(205,52,'add_group','Can add group');
INSERT INTO "auth_permission" VALUES(206,52,'change_group','Can change group');
INSERT INTO "auth_permission" VALUES(207,52,'delete_group','Can delete group');
INSERT INTO "auth_permission" VALUES(208,52,'view_group','Can view group');
INSERT INTO "auth_permission" VALUES(209,53,'add_contenttype','Can add content type');
INSERT INTO "auth_permission" VALUES(210,53,'change_contenttype','Can change content type');
INSERT INTO "auth_permission" VALUES(211,53,'delete_contenttype','Can delete content type');
INSERT INTO "auth_permission" VALUES(212,53,'view_contenttype','Can view content type');
INSERT INTO "auth_permission" VALUES(213,54,'add_session','Can add session');
INSERT INTO "auth_permission" VALUES(214,54,'change_session','Can change session');
INSERT INTO "auth_permission" VALUES(215,54,'delete_session','Can delete session');
INSERT INTO "auth_permission" VALUES(216,54,'view_session','Can view session');
CREATE TABLE "bookings_acceptance" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "at" datetime NOT NULL, "address" char(39) NULL, "browser" varchar(300) NOT NULL, "quote_id" bigint NOT NULL UNIQUE REFERENCES "bookings_quote" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "bookings_acceptance" VALUES(1,'Ferry office','2026-11-25 12:00:00',NULL,'the demo',1);
INSERT INTO "bookings_acceptance" VALUES(2,'Ines Aldana','2026-11-25 12:00:00',NULL,'the demo',2);
INSERT INTO "bookings_acceptance" VALUES(3,'Lifeboat crew','2026-10-10 12:00:00',NULL,'the demo',4);
CREATE TABLE "bookings_amountdue" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "amount_minor" bigint unsigned NOT NULL CHECK ("amount_minor" >= 0), "due_on" date NOT NULL, "void_at" datetime NULL, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "quote_id" bigint NOT NULL REFERENCES "bookings_quote" ("id") DEFERRABLE INITIALLY DEFERRED, "kind" varchar(12) NOT NULL);
INSERT INTO "bookings_amountdue" VALUES(1,17000,'2026-11-25',NULL,1,1,'deposit');
INSERT INTO "bookings_amountdue" VALUES(2,16558,'2026-11-28',NULL,1,1,'balance');
INSERT INTO "bookings_amountdue" VALUES(3,36000,'2026-11-25',NULL,2,2,'deposit');
INSERT INTO "bookings_amountdue" VALUES(4,35986,'2026-12-05',NULL,2,2,'balance');
INSERT INTO "bookings_amountdue" VALUES(5,12500,'2026-10-10',NULL,5,4,'deposit');
INSERT INTO "bookings_amountdue" VALUES(6,12398,'2026-10-24',NULL,5,4,'balance');
CREATE TABLE "bookings_booking" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "title" varchar(120) NOT NULL, "stage" varchar(9) NOT NULL, "event_on" date NULL, "date_text" varchar(80) NOT NULL, "needed_on" date NULL, "ready_by" time NULL, "place" varchar(200) NOT NULL, "wants" text NOT NULL, "budget" varchar(60) NOT NULL, "distance" integer unsigned NOT NULL CHECK ("distance" >= 0), "travel_minutes" integer unsigned NOT NULL CHECK ("travel_minutes" >= 0), "crew" smallint unsigned NOT NULL CHECK ("crew" >= 0), "created_at" datetime NOT NULL, "created_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "client_id" bigint NOT NULL REFERENCES "bookings_client" ("id") DEFERRABLE INITIALLY DEFERRED, "altitude_mm" decimal NULL, "celsius" decimal NULL, "gusts_mph" decimal NULL, "hang_height_mm" decimal NULL, "hours_afloat" smallint unsigned NULL CHECK ("hours_afloat" >= 0), CONSTRAINT "a_booked_job_has_a_prep_day" CHECK ((NOT ("stage" = 'booked') OR "needed_on" IS NOT NULL)), CONSTRAINT "prep_comes_no_later_than_the_event" CHECK (("needed_on" IS NULL OR "event_on" IS NULL OR "needed_on" <= ("event_on"))), CONSTRAINT "somebody_is_on_the_job" CHECK ("crew" >= 1));
INSERT INTO "bookings_booking" VALUES(1,'Ferry office 50 years','booked','2026-12-05','','2026-12-04','09:30:00','Ferry office, Slip 2, Port Alder','A garland over the ticket counter in black, white and gold','700',3,10,1,'2026-11-25 12:00:00',1,1,NULL,NULL,NULL,2743.2,NULL);
INSERT INTO "bookings_booking" VALUES(2,'Winter gala','booked','2026-12-12','','2026-12-11','14:00:00','Corn Hall, Port Alder','Doorway garland, a big balloon with how many years it is','1300',18,35,2,'2026-11-25 12:00:00',1,2,NULL,NULL,NULL,3352.8,NULL);
INSERT INTO "bookings_booking" VALUES(3,'Barn wedding','quoted','2026-12-26','',NULL,'13:00:00','Our barn, Alder Ridge','24 ft garland in navy and sand, a column on either side of the door','1200',12,25,2,'2026-11-25 12:00:00',1,3,NULL,NULL,NULL,3962.4,NULL);
INSERT INTO "bookings_booking" VALUES(4,'','enquiry','2027-01-09','',NULL,'10:00:00','','Something bright for the spring fair, not too dear','600',0,0,1,'2026-11-25 12:00:00',1,4,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "bookings_booking" VALUES(5,'Lifeboat supper','done','2026-10-31','','2026-10-30','17:00:00','Boat hall, Port Alder','A garland over the long table in the colours of the boat','500',2,8,1,'2026-10-10 12:00:00',1,5,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE "bookings_books_posting" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "account" varchar(10) NOT NULL, "debit_minor" bigint unsigned NOT NULL CHECK ("debit_minor" >= 0), "credit_minor" bigint unsigned NOT NULL CHECK ("credit_minor" >= 0), "entry_id" integer NOT NULL REFERENCES "bookings_books_sealed" ("number") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_posting_is_a_debit_or_a_credit" CHECK ((("credit_minor" = 0 AND "debit_minor" > 0) OR ("credit_minor" > 0 AND "debit_minor" = 0))), CONSTRAINT "a_posting_is_to_a_known_account" CHECK ("account" IN ('cash', 'bank', 'card', 'other', 'receivable', 'tax', 'deposits', 'advances', 'credit', 'sales', 'fees')), CONSTRAINT "an_entry_posts_to_an_account_once" UNIQUE ("entry_id", "account"));
INSERT INTO "bookings_books_posting" VALUES(1,'bank',24898,0,1);
INSERT INTO "bookings_books_posting" VALUES(2,'advances',0,24898,1);
CREATE TABLE "bookings_books_sealed" ("number" integer unsigned NOT NULL PRIMARY KEY CHECK ("number" >= 0), "on" date NOT NULL, "at" datetime NOT NULL, "what" varchar(200) NOT NULL, "currency" varchar(3) NOT NULL, "booking_id" bigint NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "client_id" bigint NOT NULL REFERENCES "bookings_client" ("id") DEFERRABLE INITIALLY DEFERRED, "credit_move_id" bigint NULL REFERENCES "bookings_creditmove" ("id") DEFERRABLE INITIALLY DEFERRED, "credit_note_id" bigint NULL REFERENCES "bookings_creditnote" ("id") DEFERRABLE INITIALLY DEFERRED, "invoice_id" bigint NULL REFERENCES "bookings_invoice" ("id") DEFERRABLE INITIALLY DEFERRED, "payment_id" bigint NULL REFERENCES "bookings_payment" ("id") DEFERRABLE INITIALLY DEFERRED, "refund_id" bigint NULL REFERENCES "bookings_refund" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "bookings_books_sealed" VALUES(1,'2026-10-10','2026-10-10 12:00:00','Payment, receipt 1','USD',5,1,5,NULL,NULL,NULL,1,NULL);
CREATE TABLE "bookings_client" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "phone" varchar(40) NOT NULL, "email" varchar(254) NOT NULL, "notes" text NOT NULL, CONSTRAINT "a_client_has_a_name_or_a_contact" CHECK (NOT ("email" = '' AND "name" = '' AND "phone" = '')));
INSERT INTO "bookings_client" VALUES(1,'Ferry office','555-0163','front.desk@ferry.example','');
INSERT INTO "bookings_client" VALUES(2,'Ines Aldana','','ines@filmsociety.example','');
INSERT INTO "bookings_client" VALUES(3,'Tobias Renn','555-0188','','');
INSERT INTO "bookings_client" VALUES(4,'Harlow School','555-0109','','');
INSERT INTO "bookings_client" VALUES(5,'Lifeboat crew','555-0120','','');
CREATE TABLE "bookings_creditmove" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(7) NOT NULL, "amount_minor" bigint unsigned NOT NULL CHECK ("amount_minor" >= 0), "on" date NOT NULL, "at" datetime NOT NULL, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "client_id" bigint NOT NULL REFERENCES "bookings_client" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "credit_moves_are_of_something" CHECK ("amount_minor" > 0));
CREATE TABLE "bookings_creditnote" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL UNIQUE CHECK ("number" >= 0), "currency" varchar(3) NOT NULL, "issued_on" date NOT NULL, "issued_at" datetime NOT NULL, "net_minor" bigint NOT NULL, "tax_minor" bigint NOT NULL, "total_minor" bigint unsigned NOT NULL CHECK ("total_minor" >= 0), "told" text NOT NULL CHECK ((JSON_VALID("told") OR "told" IS NULL)), "pdf" BLOB NOT NULL, "pdf_sha256" varchar(64) NOT NULL, "why" varchar(200) NOT NULL, "issued_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "invoice_id" bigint NOT NULL UNIQUE REFERENCES "bookings_invoice" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_credit_note_is_net_and_tax" CHECK ("total_minor" = ("net_minor" + "tax_minor")));
CREATE TABLE "bookings_historyentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "what" varchar(400) NOT NULL, "money" bool NOT NULL, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "bookings_historyentry" VALUES(1,'2026-11-25 12:00:00','Enquiry logged.',0,1,1);
INSERT INTO "bookings_historyentry" VALUES(2,'2026-11-25 12:00:00','Garland over the counter added.',0,1,1);
INSERT INTO "bookings_historyentry" VALUES(3,'2026-11-25 12:00:00','Kit promised: 1 Arch frame, 4 Dec to 12 Dec.',0,1,1);
INSERT INTO "bookings_historyentry" VALUES(4,'2026-11-25 12:00:00','Kit promised: 1 Step ladder, 8 ft, 4 Dec to 6 Dec.',0,1,1);
INSERT INTO "bookings_historyentry" VALUES(5,'2026-11-25 12:00:00','Quote 1, version 1 issued.',0,1,1);
INSERT INTO "bookings_historyentry" VALUES(6,'2026-11-25 12:00:00','Quote 1, version 1 accepted by Ferry office.',0,1,NULL);
INSERT INTO "bookings_historyentry" VALUES(7,'2026-11-25 12:00:00','Enquiry logged.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(8,'2026-11-25 12:00:00','Garland over the doorway added.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(9,'2026-11-25 12:00:00','Big balloon with lettering added.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(10,'2026-11-25 12:00:00','Kit promised: 1 Arch frame, 11 Dec to 13 Dec.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(11,'2026-11-25 12:00:00','Kit promised: 1 Electric pump, 11 Dec to 13 Dec.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(12,'2026-11-25 12:00:00','Kit promised: 1 Step ladder, 8 ft, 11 Dec to 13 Dec.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(13,'2026-11-25 12:00:00','Quote 2, version 1 issued.',0,2,1);
INSERT INTO "bookings_historyentry" VALUES(14,'2026-11-25 12:00:00','Quote 2, version 1 accepted by Ines Aldana.',0,2,NULL);
INSERT INTO "bookings_historyentry" VALUES(15,'2026-11-25 12:00:00','Enquiry logged.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(16,'2026-11-25 12:00:00','Garland along the beam added.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(17,'2026-11-25 12:00:00','Column left of the door added.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(18,'2026-11-25 12:00:00','Column right of the door added.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(19,'2026-11-25 12:00:00','Kit promised: 2 Base plate, 25 Dec to 27 Dec.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(20,'2026-11-25 12:00:00','Kit promised: 1 Electric pump, 25 Dec to 27 Dec.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(21,'2026-11-25 12:00:00','Quote 3, version 1 issued.',0,3,1);
INSERT INTO "bookings_historyentry" VALUES(22,'2026-11-25 12:00:00','Enquiry logged.',0,4,1);
INSERT INTO "bookings_historyentry" VALUES(23,'2026-10-10 12:00:00','Enquiry logged.',0,5,1);
INSERT INTO "bookings_historyentry" VALUES(24,'2026-10-10 12:00:00','Garland over the table added.',0,5,1);
INSERT INTO "bookings_historyentry" VALUES(25,'2026-10-10 12:00:00','Quote 4, version 1 issued.',0,5,1);
INSERT INTO "bookings_historyentry" VALUES(26,'2026-10-10 12:00:00','Quote 4, version 1 accepted by Lifeboat crew.',0,5,NULL);
INSERT INTO "bookings_historyentry" VALUES(27,'2026-10-10 12:00:00','$248.98 received, bank transfer.',1,5,1);
INSERT INTO "bookings_historyentry" VALUES(28,'2026-10-30 12:00:00','9 lines taken off the shelf.',0,5,2);
INSERT INTO "bookings_historyentry" VALUES(29,'2026-11-01 12:00:00','Wrapped up. 9 popped.',0,5,2);
CREATE TABLE "bookings_invoice" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL UNIQUE CHECK ("number" >= 0), "currency" varchar(3) NOT NULL, "issued_on" date NOT NULL, "issued_at" datetime NOT NULL, "net_minor" bigint NOT NULL, "tax_minor" bigint NOT NULL, "total_minor" bigint unsigned NOT NULL CHECK ("total_minor" >= 0), "told" text NOT NULL CHECK ((JSON_VALID("told") OR "told" IS NULL)), "pdf" BLOB NOT NULL, "pdf_sha256" varchar(64) NOT NULL, "kind" varchar(12) NOT NULL, "deposits_minor" bigint unsigned NOT NULL CHECK ("deposits_minor" >= 0), "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "client_id" bigint NOT NULL REFERENCES "bookings_client" ("id") DEFERRABLE INITIALLY DEFERRED, "issued_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "quote_id" bigint NOT NULL REFERENCES "bookings_quote" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "an_invoice_is_net_and_tax" CHECK ("total_minor" = ("net_minor" + "tax_minor")));
CREATE TABLE "bookings_invoiceline" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "position" integer unsigned NOT NULL CHECK ("position" >= 0), "what" varchar(200) NOT NULL, "note" varchar(300) NOT NULL, "net_minor" bigint NOT NULL, "tax_minor" bigint NOT NULL, "invoice_id" bigint NOT NULL REFERENCES "bookings_invoice" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "invoice_lines_stand_in_order" UNIQUE ("invoice_id", "position"));
CREATE TABLE "bookings_materialswap" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "quantity" integer unsigned NOT NULL CHECK ("quantity" >= 0), "at" datetime NOT NULL, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "given_up_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "taken_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "inside_id" bigint NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_swap_swaps_something" CHECK ("quantity" >= 1), CONSTRAINT "a_swap_is_of_two_items" CHECK (NOT ("given_up_id" = ("taken_id"))), CONSTRAINT "a_double_swap_is_of_three_items" CHECK (("inside_id" IS NULL OR (NOT ("inside_id" = ("taken_id") AND "inside_id" IS NOT NULL) AND NOT ("inside_id" = ("given_up_id") AND "inside_id" IS NOT NULL)))));
CREATE TABLE "bookings_moneyterms" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "balance_days" smallint unsigned NOT NULL CHECK ("balance_days" >= 0), "notice" text NOT NULL CHECK ((JSON_VALID("notice") OR "notice" IS NULL)), "pay_to" text NOT NULL, CONSTRAINT "there_is_one_set_of_money_terms" CHECK ("id" = 1), CONSTRAINT "a_balance_is_due_within_a_year" CHECK ("balance_days" <= 365));
CREATE TABLE "bookings_numberseries" ("name" varchar(12) NOT NULL PRIMARY KEY, "last" integer unsigned NOT NULL CHECK ("last" >= 0));
INSERT INTO "bookings_numberseries" VALUES('receipt',1);
INSERT INTO "bookings_numberseries" VALUES('entry',1);
CREATE TABLE "bookings_payment" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL UNIQUE CHECK ("number" >= 0), "currency" varchar(3) NOT NULL, "amount_minor" bigint unsigned NOT NULL CHECK ("amount_minor" >= 0), "surplus_minor" bigint unsigned NOT NULL CHECK ("surplus_minor" >= 0), "left_minor" bigint unsigned NOT NULL CHECK ("left_minor" >= 0), "method" varchar(8) NOT NULL, "received_on" date NOT NULL, "note" varchar(200) NOT NULL, "at" datetime NOT NULL, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "client_id" bigint NOT NULL REFERENCES "bookings_client" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_payment_is_of_something" CHECK ("amount_minor" > 0), CONSTRAINT "a_surplus_is_part_of_it" CHECK ("surplus_minor" <= ("amount_minor")), CONSTRAINT "a_payment_is_made_in_a_known_way" CHECK ("method" IN ('transfer', 'card', 'cash', 'other')));
INSERT INTO "bookings_payment" VALUES(1,1,'USD',24898,0,0,'transfer','2026-10-10','','2026-10-10 12:00:00',5,1,5);
CREATE TABLE "bookings_photo" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(32) NOT NULL UNIQUE, "full" BLOB NOT NULL, "picture" BLOB NOT NULL, "width" integer unsigned NOT NULL CHECK ("width" >= 0), "height" integer unsigned NOT NULL CHECK ("height" >= 0), "added_at" datetime NOT NULL, "added_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_photo_has_pixels" CHECK (("height" >= 1 AND "width" >= 1)));
CREATE TABLE "bookings_piece" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(80) NOT NULL, "kind" varchar(20) NOT NULL, "spec" text NOT NULL CHECK ((JSON_VALID("spec") OR "spec" IS NULL)), "layout" text NOT NULL CHECK ((JSON_VALID("layout") OR "layout" IS NULL)), "position" integer unsigned NOT NULL CHECK ("position" >= 0), "edition" integer unsigned NOT NULL CHECK ("edition" >= 0), "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "pieces_stand_in_order" UNIQUE ("booking_id", "position"));
INSERT INTO "bookings_piece" VALUES(1,'Garland over the counter','garland','{"length_mm": "7315.2", "width_mm": "508.0", "mix": [[5, 30], [11, 62], [16, 8]], "colours": [["1", 45], ["2", 35], ["8", 20]], "outdoors": false, "shape": "swag", "seed": 3, "typed": {"length": "24 ft", "width": "20 in"}}','{}',0,1,1);
INSERT INTO "bookings_piece" VALUES(2,'Garland over the doorway','garland','{"length_mm": "9144.0", "width_mm": "558.8", "mix": [[5, 30], [11, 62], [16, 8]], "colours": [["1", 55], ["8", 25], ["2", 20]], "outdoors": false, "shape": "doorway", "seed": 7, "typed": {"length": "30 ft", "width": "22 in"}}','{}',0,1,2);
INSERT INTO "bookings_piece" VALUES(3,'Big balloon with lettering','lettered','{"colour": "1", "text": "20 years", "size": 36, "decal_width_mm": "254.0", "decal_height_mm": "101.6", "surplus_percent": "2", "script": false, "trim": "tassel", "helium": true, "height_mm": "2133.6", "inner": null, "sealed": false, "outdoors": false, "extras": [], "seed": 1, "typed": {"decal_width": "10 in", "decal_height": "4 in", "height": "7 ft"}}','{}',1,1,2);
INSERT INTO "bookings_piece" VALUES(4,'Garland along the beam','garland','{"length_mm": "7315.2", "width_mm": "558.8", "mix": [[5, 30], [11, 62], [16, 8]], "colours": [["3", 40], ["4", 30], ["5", 20], ["6", 10]], "outdoors": false, "shape": "doorway", "seed": 11, "typed": {"length": "24 ft", "width": "22 in"}}','{}',0,1,3);
INSERT INTO "bookings_piece" VALUES(5,'Column left of the door','packed','{"form": "column", "colours": [["4", 50], ["2", 50]], "size": 11, "diameter_mm": null, "length_mm": null, "span_mm": null, "rise_mm": null, "height_mm": "1828.8", "per_layer": 4, "pattern": "stripes", "colours_by": "percent", "shape": "swag", "compression_percent": 0, "topper": {"size": 36, "colour": "4", "form": "round", "foil": false}, "base": "weighted", "helium": false, "outdoors": false, "seed": 1, "doubled": [], "extras": [], "typed": {"height": "6 ft"}}','{}',1,1,3);
INSERT INTO "bookings_piece" VALUES(6,'Column right of the door','packed','{"form": "column", "colours": [["4", 50], ["2", 50]], "size": 11, "diameter_mm": null, "length_mm": null, "span_mm": null, "rise_mm": null, "height_mm": "1828.8", "per_layer": 4, "pattern": "stripes", "colours_by": "percent", "shape": "swag", "compression_percent": 0, "topper": {"size": 36, "colour": "4", "form": "round", "foil": false}, "base": "weighted", "helium": false, "outdoors": false, "seed": 1, "doubled": [], "extras": [], "typed": {"height": "6 ft"}}','{}',2,1,3);
INSERT INTO "bookings_piece" VALUES(7,'Garland over the table','garland','{"length_mm": "4876.8", "width_mm": "508.0", "mix": [[5, 30], [11, 70]], "colours": [["10", 40], ["12", 30], ["11", 30]], "outdoors": false, "shape": "swag", "seed": 5, "typed": {"length": "16 ft", "width": "20 in"}}','{}',0,1,5);
CREATE TABLE "bookings_pulltick" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "asked" integer unsigned NOT NULL CHECK ("asked" >= 0), "taken" integer unsigned NOT NULL CHECK ("taken" >= 0), "at" datetime NOT NULL, "issued_at" datetime NULL, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "lot_id" bigint NULL REFERENCES "stock_lot" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "bookings_pulltick" VALUES(1,19,19,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,8,NULL);
INSERT INTO "bookings_pulltick" VALUES(2,43,43,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,6,NULL);
INSERT INTO "bookings_pulltick" VALUES(3,14,14,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,11,NULL);
INSERT INTO "bookings_pulltick" VALUES(4,33,33,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,9,NULL);
INSERT INTO "bookings_pulltick" VALUES(5,15,15,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,14,NULL);
INSERT INTO "bookings_pulltick" VALUES(6,33,33,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,12,NULL);
INSERT INTO "bookings_pulltick" VALUES(7,10,10,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,47,NULL);
INSERT INTO "bookings_pulltick" VALUES(8,22,22,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,48,NULL);
INSERT INTO "bookings_pulltick" VALUES(9,24,24,'2026-10-30 12:00:00','2026-10-30 12:00:00',5,2,50,NULL);
CREATE TABLE "bookings_quote" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL CHECK ("number" >= 0), "version" integer unsigned NOT NULL CHECK ("version" >= 0), "issued_at" datetime NOT NULL, "valid_until" date NOT NULL, "needed_on" date NOT NULL, "currency" varchar(3) NOT NULL, "price_minor" bigint unsigned NOT NULL CHECK ("price_minor" >= 0), "tax_minor" bigint unsigned NOT NULL CHECK ("tax_minor" >= 0), "total_minor" bigint unsigned NOT NULL CHECK ("total_minor" >= 0), "deposit_minor" bigint unsigned NOT NULL CHECK ("deposit_minor" >= 0), "cost_minor" bigint unsigned NOT NULL CHECK ("cost_minor" >= 0), "person_minutes" integer unsigned NOT NULL CHECK ("person_minutes" >= 0), "told" text NOT NULL CHECK ((JSON_VALID("told") OR "told" IS NULL)), "reasons" text NOT NULL CHECK ((JSON_VALID("reasons") OR "reasons" IS NULL)), "changes" text NOT NULL CHECK ((JSON_VALID("changes") OR "changes" IS NULL)), "pdf" BLOB NOT NULL, "pdf_sha256" varchar(64) NOT NULL, "withdrawn_at" datetime NULL, "replaced_at" datetime NULL, "link_salt" varchar(43) NOT NULL, "link_hash" varchar(64) NOT NULL UNIQUE, "booking_id" bigint NOT NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "issued_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_quote_version_is_issued_once" UNIQUE ("number", "version"), CONSTRAINT "a_total_is_price_and_tax" CHECK ("total_minor" = ("price_minor" + "tax_minor")), CONSTRAINT "a_deposit_is_part_of_the_total" CHECK ("deposit_minor" <= ("total_minor")));
INSERT INTO "bookings_quote" VALUES(1,1,1,'2026-11-25 12:00:00','2026-12-04','2026-12-04','USD',31000,2558,33558,17000,18946,224,'{}','[["Materials: Garland over the counter", 3583, "at pack cost"], ["Work", 10880, "204 person-minutes at 32.00 an hour, crew of 1"], ["Time on the way", 1067, "20 person-minutes at 32.00 an hour, crew of 1"], ["Driving", 420, "6 at 0.70 each"], ["Kit wear", 525, "what the kit used loses"], ["Overhead", 2471, "15 % of 164.75"], ["Margin", 11612, "38 % of the price 305.58"], ["Rounding", 442, "up to the next 5.00"]]','[]',X'255044462D312E370A25F09F96A40A352030206F626A0A3C3C2F46696C746572202F466C6174654465636F64652F4C656E6774682031303233333E3E0A737472','aee4790f0b6d74df5596a7c88d9d3110cf4a5978adcd812f5632d49de345923d',NULL,NULL,'XeRZRhZPlZm-bBOhkrdm00MD4EN6BE1_','96cc8ec19b750c79ad520e605bd3013b3edec8c99e3a2dbb9f24fa674f5c2ae9',1,1);
INSERT INTO "bookings_quote" VALUES(2,2,1,'2026-11-25 12:00:00','2026-12-09','2026-12-11','USD',66500,5486,71986,36000,41148,460,'{}','[["Materials: Garland over the doorway", 5122, "at pack cost"], ["Materials: Big balloon with lettering", 2990, "at pack cost"], ["Work", 17067, "320 person-minutes at 32.00 an hour, crew of 2"], ["Time on the way", 7467, "140 person-minutes at 32.00 an hour, crew of 2"], ["Driving", 2520, "36 at 0.70 each"], ["Kit wear", 615, "what the kit used loses"], ["Overhead", 5367, "15 % of 357.81"], ["Margin", 25220, "38 % of the price 663.68"], ["Rounding", 132, "up to the next 5.00"]]','[]',X'255044462D312E370A25F09F96A40A352030206F626A0A3C3C2F46696C746572202F466C6174654465636F64652F4C656E6774682031313334393E3E0A737472','6a4c44b114509dfaa0a7cbfe6b59752df9be123e6b4ed46c8ee57e1da2337a6f',NULL,NULL,'wCCyeIHTqPyTj0yYzzRh760a6I3rg_aH','b00b2c2f07e6875c4bbc07299e3b7768baa7e2257db3ec760e3212abb939e72d',2,1);
INSERT INTO "bookings_quote" VALUES(3,3,1,'2026-11-25 12:00:00','2026-12-09','2026-12-25','USD',57500,4744,62244,31500,35633,424,'{}','[["Materials: Garland along the beam", 4216, "at pack cost"], ["Materials: Column left of the door", 1133, "at pack cost"], ["Materials: Column right of the door", 1133, "at pack cost"], ["Work", 17280, "324 person-minutes at 32.00 an hour, crew of 2"], ["Time on the way", 5333, "100 person-minutes at 32.00 an hour, crew of 2"], ["Driving", 1680, "24 at 0.70 each"], ["Kit wear", 210, "what the kit used loses"], ["Overhead", 4648, "15 % of 309.85"], ["Margin", 21840, "38 % of the price 574.73"], ["Rounding", 27, "up to the next 5.00"]]','[]',X'255044462D312E370A25F09F96A40A352030206F626A0A3C3C2F46696C746572202F466C6174654465636F64652F4C656E6774682031303738343E3E0A737472','0ddf248121b62d9cc1adc7f19ca17bcb0e203c08ef149e6937e747c45911031a',NULL,NULL,'TbXf_9UUrlLfgsS4NgW3ReU4dC9SJkRj','2298bb82b54bb75618f9f8df93f7e98e81cf450d259d946ca405b8771823e282',3,1);
INSERT INTO "bookings_quote" VALUES(4,4,1,'2026-10-10 12:00:00','2026-10-24','2026-10-30','USD',23000,1898,24898,12500,14160,180,'{}','[["Materials: Garland over the table", 2433, "at pack cost"], ["Work", 8747, "164 person-minutes at 32.00 an hour, crew of 1"], ["Time on the way", 853, "16 person-minutes at 32.00 an hour, crew of 1"], ["Driving", 280, "4 at 0.70 each"], ["Overhead", 1847, "15 % of 123.13"], ["Margin", 8679, "38 % of the price 228.39"], ["Rounding", 161, "up to the next 5.00"]]','[]',X'255044462D312E370A25F09F96A40A352030206F626A0A3C3C2F46696C746572202F466C6174654465636F64652F4C656E67746820383536343E3E0A73747265','a9b50374bea64486ec47aeaba65dcea6d795d2bf03efd78982c71e8ead2c7b84',NULL,NULL,'yALyhdH92U86EsW5eTEphrh0LIRy6n3H','6725a171f3bc805ca3537e5d376ad3142ed7cc2779d5a6e730169a0fac23a680',5,1);
CREATE TABLE "bookings_quotematerial" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "item_label" varchar(120) NOT NULL, "needed" integer unsigned NOT NULL CHECK ("needed" >= 0), "spares" integer unsigned NOT NULL CHECK ("spares" >= 0), "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "quote_id" bigint NOT NULL REFERENCES "bookings_quote" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_quote_lists_an_item_once" UNIQUE ("quote_id", "item_id"));
INSERT INTO "bookings_quotematerial" VALUES(1,'Black 5-inch',24,2,5,1);
INSERT INTO "bookings_quotematerial" VALUES(2,'White 5-inch',18,2,19,1);
INSERT INTO "bookings_quotematerial" VALUES(3,'Gold metallic 5-inch',10,1,41,1);
INSERT INTO "bookings_quotematerial" VALUES(4,'Black 11-inch',49,4,1,1);
INSERT INTO "bookings_quotematerial" VALUES(5,'White 11-inch',38,3,15,1);
INSERT INTO "bookings_quotematerial" VALUES(6,'Gold metallic 11-inch',21,2,39,1);
INSERT INTO "bookings_quotematerial" VALUES(7,'Black 16-inch',6,1,2,1);
INSERT INTO "bookings_quotematerial" VALUES(8,'White 16-inch',4,1,16,1);
INSERT INTO "bookings_quotematerial" VALUES(9,'Gold metallic 16-inch',3,1,40,1);
INSERT INTO "bookings_quotematerial" VALUES(10,'260 ties',38,3,50,1);
INSERT INTO "bookings_quotematerial" VALUES(11,'Line',30,0,48,1);
INSERT INTO "bookings_quotematerial" VALUES(12,'Hooks',11,2,47,1);
INSERT INTO "bookings_quotematerial" VALUES(13,'Black 5-inch',43,3,5,2);
INSERT INTO "bookings_quotematerial" VALUES(14,'White 5-inch',16,2,19,2);
INSERT INTO "bookings_quotematerial" VALUES(15,'Gold metallic 5-inch',19,2,41,2);
INSERT INTO "bookings_quotematerial" VALUES(16,'Black 11-inch',88,6,1,2);
INSERT INTO "bookings_quotematerial" VALUES(17,'White 11-inch',32,3,15,2);
INSERT INTO "bookings_quotematerial" VALUES(18,'Gold metallic 11-inch',40,3,39,2);
INSERT INTO "bookings_quotematerial" VALUES(19,'Black 16-inch',11,1,2,2);
INSERT INTO "bookings_quotematerial" VALUES(20,'White 16-inch',4,1,16,2);
INSERT INTO "bookings_quotematerial" VALUES(21,'Gold metallic 16-inch',5,1,40,2);
INSERT INTO "bookings_quotematerial" VALUES(22,'260 ties',54,4,50,2);
INSERT INTO "bookings_quotematerial" VALUES(23,'Line',36,0,48,2);
INSERT INTO "bookings_quotematerial" VALUES(24,'Hooks',14,2,47,2);
INSERT INTO "bookings_quotematerial" VALUES(25,'Black 36-inch',1,0,4,2);
INSERT INTO "bookings_quotematerial" VALUES(26,'Decals',1,0,45,2);
INSERT INTO "bookings_quotematerial" VALUES(27,'Weights',3,0,51,2);
INSERT INTO "bookings_quotematerial" VALUES(28,'Ribbon',46,3,49,2);
INSERT INTO "bookings_quotematerial" VALUES(29,'Helium',369,47,46,2);
INSERT INTO "bookings_quotematerial" VALUES(30,'Ink 5-inch',25,2,24,3);
INSERT INTO "bookings_quotematerial" VALUES(31,'Sand 5-inch',19,2,29,3);
INSERT INTO "bookings_quotematerial" VALUES(32,'Terracotta 5-inch',12,2,32,3);
INSERT INTO "bookings_quotematerial" VALUES(33,'Sage 5-inch',6,1,35,3);
INSERT INTO "bookings_quotematerial" VALUES(34,'Ink 11-inch',51,4,20,3);
INSERT INTO "bookings_quotematerial" VALUES(35,'Sand 11-inch',78,7,25,3);
INSERT INTO "bookings_quotematerial" VALUES(36,'Terracotta 11-inch',26,3,30,3);
INSERT INTO "bookings_quotematerial" VALUES(37,'Sage 11-inch',13,2,33,3);
INSERT INTO "bookings_quotematerial" VALUES(38,'Ink 16-inch',6,1,21,3);
INSERT INTO "bookings_quotematerial" VALUES(39,'Sand 16-inch',5,1,26,3);
INSERT INTO "bookings_quotematerial" VALUES(40,'Terracotta 16-inch',3,1,31,3);
INSERT INTO "bookings_quotematerial" VALUES(41,'Sage 16-inch',2,1,34,3);
INSERT INTO "bookings_quotematerial" VALUES(42,'260 ties',55,5,50,3);
INSERT INTO "bookings_quotematerial" VALUES(43,'Line',56,0,48,3);
INSERT INTO "bookings_quotematerial" VALUES(44,'Hooks',11,2,47,3);
INSERT INTO "bookings_quotematerial" VALUES(45,'White 11-inch',32,4,15,3);
INSERT INTO "bookings_quotematerial" VALUES(46,'Sand 36-inch',2,0,28,3);
INSERT INTO "bookings_quotematerial" VALUES(47,'Weights',2,0,51,3);
INSERT INTO "bookings_quotematerial" VALUES(48,'Sky 5-inch',17,2,8,4);
INSERT INTO "bookings_quotematerial" VALUES(49,'Coral 5-inch',12,2,11,4);
INSERT INTO "bookings_quotematerial" VALUES(50,'Butter 5-inch',13,2,14,4);
INSERT INTO "bookings_quotematerial" VALUES(51,'Sky 11-inch',40,3,6,4);
INSERT INTO "bookings_quotematerial" VALUES(52,'Coral 11-inch',30,3,9,4);
INSERT INTO "bookings_quotematerial" VALUES(53,'Butter 11-inch',30,3,12,4);
INSERT INTO "bookings_quotematerial" VALUES(54,'260 ties',22,2,50,4);
INSERT INTO "bookings_quotematerial" VALUES(55,'Line',22,0,48,4);
INSERT INTO "bookings_quotematerial" VALUES(56,'Hooks',9,1,47,4);
CREATE TABLE "bookings_quoteopening" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "what" varchar(4) NOT NULL, "quote_id" bigint NOT NULL REFERENCES "bookings_quote" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "bookings_quoteopening" VALUES(1,'2026-11-25 12:00:00','page',1);
INSERT INTO "bookings_quoteopening" VALUES(2,'2026-11-25 12:00:00','page',2);
INSERT INTO "bookings_quoteopening" VALUES(3,'2026-11-25 12:00:00','page',3);
CREATE TABLE "bookings_quotepiece" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "position" integer unsigned NOT NULL CHECK ("position" >= 0), "name" varchar(80) NOT NULL, "kind" varchar(20) NOT NULL, "spec" text NOT NULL CHECK ((JSON_VALID("spec") OR "spec" IS NULL)), "layout" text NOT NULL CHECK ((JSON_VALID("layout") OR "layout" IS NULL)), "description" varchar(300) NOT NULL, "balloons" integer unsigned NOT NULL CHECK ("balloons" >= 0), "colours" text NOT NULL CHECK ((JSON_VALID("colours") OR "colours" IS NULL)), "price_minor" bigint unsigned NOT NULL CHECK ("price_minor" >= 0), "picture" text NOT NULL, "quote_id" bigint NOT NULL REFERENCES "bookings_quote" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "quoted_pieces_stand_in_order" UNIQUE ("quote_id", "position"));
INSERT INTO "bookings_quotepiece" VALUES(1,0,'Garland over the counter','garland','{"length_mm": "7315.2", "width_mm": "508.0", "mix": [[5, 30], [11, 62], [16, 8]], "colours": [["1", 45], ["2", 35], ["8", 20]], "outdoors": false, "shape": "swag", "seed": 3}','{}','24 ft × 20 in, 173 balloons',173,'[{"name": "Black", "swatch": "#1b1b1f", "ink": "#fffdf9", "count": 79}, {"name": "White", "swatch": "#f6f4f0", "ink": "#211c2b", "count": 60}, {"name": "Gold metallic", "swatch": "#c79a3e", "ink": "#211c2b", "count": 34}]',31000,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-15.6 -21.7 292.7 144.3" role="img" aria-labelledby="p0-title p0-desc">
<title id="p0-title">Garland over the counter</title>
<desc id="p0-desc">Garland, 24 ft × 20 in. 173 balloons: 79 ⁨Black⁩ (24 5-inch, 49 11-inch, 6 16-inch), 60 ⁨White⁩ (18 5-inch, 38 11-inch, 4 16-inch), 34 ⁨Gold metallic⁩ (10 5-inch, 21 11-inch, 3 16-inch).</desc>
<defs>
<radialGradient id="p0-c0-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cecbc8"/><stop offset="0.07" stop-color="#aaa7a6"/><stop offset="0.17" stop-color="#545155"/><stop offset="0.48" stop-color="#1e1b22"/><stop offset="0.8" stop-color="#201b24"/><stop offset="0.96" stop-color="#221b25"/><stop offset="1" stop-color="#211b24"/></radialGradient>
<radialGradient id="p0-c0-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cdcbc8"/><stop offset="0.07" stop-color="#a9a7a5"/><stop offset="0.17" stop-color="#525154"/><stop offset="0.48" stop-color="#1c1b20"/><stop offset="0.8" stop-color="#1f1b22"/><stop offset="0.96" stop-color="#211b24"/><stop offset="1" stop-color="#201b23"/></radialGradient>
<radialGradient id="p0-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cdcbc7"/><stop offset="0.07" stop-color="#a8a7a5"/><stop offset="0.17" stop-color="#525153"/><stop offset="0.48" stop-color="#1b1b1f"/><stop offset="0.8" stop-color="#1e1b21"/><stop offset="0.96" stop-color="#201b23"/><stop offset="1" stop-color="#1f1b23"/></radialGradient>
<radialGradient id="p0-c1-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#efede8"/><stop offset="0.07" stop-color="#e4e1de"/><stop offset="0.17" stop-color="#c9c5c4"/><stop offset="0.48" stop-color="#b8b3b4"/><stop offset="0.8" stop-color="#928b90"/><stop offset="0.96" stop-color="#726a71"/><stop offset="1" stop-color="#7e767c"/></radialGradient>
<radialGradient id="p0-c1-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f8f5f0"/><stop offset="0.07" stop-color="#f2f0eb"/><stop offset="0.17" stop-color="#e5e2df"/><stop offset="0.48" stop-color="#dddad8"/><stop offset="0.8" stop-color="#ada8aa"/><stop offset="0.96" stop-color="#857e84"/><stop offset="1" stop-color="#948d92"/></radialGradient>
<radialGradient id="p0-c1-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#fdfbf5"/><stop offset="0.07" stop-color="#fcfaf4"/><stop offset="0.17" stop-color="#f8f6f2"/><stop offset="0.48" stop-color="#f6f4f0"/><stop offset="0.8" stop-color="#c0bbbc"/><stop offset="0.96" stop-color="#928b90"/><stop offset="1" stop-color="#a39da0"/></radialGradient>
<radialGradient id="p0-c2-0b" cx=".58" cy="1.5" r="1.5"><stop offset="0.3333" stop-color="#5e4730"/><stop offset="0.4133" stop-color="#7c5e33"/><stop offset="0.5067" stop-color="#a68752"/><stop offset="0.57" stop-color="#b69d71"/><stop offset="0.6" stop-color="#654c30"/><stop offset="0.6333" stop-color="#6a5031"/><stop offset="0.72" stop-color="#977437"/><stop offset="0.82" stop-color="#cbb897"/><stop offset="0.8867" stop-color="#dcceb6"/><stop offset="1" stop-color="#977437"/></radialGradient><radialGradient id="p0-c2-0r" r=".52"><stop offset=".7" stop-color="#42302c" stop-opacity="0"/><stop offset="1" stop-color="#42302c" stop-opacity="0.75"/></radialGradient><pattern id="p0-c2-0" width="1" height="1" patternContentUnits="objectBoundingBox"><rect width="1" height="1" fill="url(#p0-c2-0b)"/><rect width="1" height="1" fill="url(#p0-c2-0r)"/></pattern>
<radialGradient id="p0-c2-1b" cx=".58" cy="1.5" r="1.5"><stop offset="0.3333" stop-color="#6d5232"/><stop offset="0.4133" stop-color="#927036"/><stop offset="0.5067" stop-color="#be9b55"/><stop offset="0.57" stop-color="#caad73"/><stop offset="0.6" stop-color="#765933"/><stop offset="0.6333" stop-color="#7b5e33"/><stop offset="0.72" stop-color="#b48b3b"/><stop offset="0.82" stop-color="#dac499"/><stop offset="0.8867" stop-color="#e6d6b7"/><stop offset="1" stop-color="#b48b3b"/></radialGradient><radialGradient id="p0-c2-1r" r=".52"><stop offset=".7" stop-color="#4a362d" stop-opacity="0"/><stop offset="1" stop-color="#4a362d" stop-opacity="0.75"/></radialGradient><pattern id="p0-c2-1" width="1" height="1" patternContentUnits="objectBoundingBox"><rect width="1" height="1" fill="url(#p0-c2-1b)"/><rect width="1" height="1" fill="url(#p0-c2-1r)"/></pattern>
<radialGradient id="p0-c2-2b" cx=".58" cy="1.5" r="1.5"><stop offset="0.3333" stop-color="#765a33"/><stop offset="0.4133" stop-color="#a07b39"/><stop offset="0.5067" stop-color="#cfa858"/><stop offset="0.57" stop-color="#d8b876"/><stop offset="0.6" stop-color="#806234"/><stop offset="0.6333" stop-color="#876735"/><stop offset="0.72" stop-color="#c79a3e"/><stop offset="0.82" stop-color="#e3cc9a"/><stop offset="0.8867" stop-color="#ecdbb8"/><stop offset="1" stop-color="#c79a3e"/></radialGradient><radialGradient id="p0-c2-2r" r=".52"><stop offset=".7" stop-color="#4e3a2e" stop-opacity="0"/><stop offset="1" stop-color="#4e3a2e" stop-opacity="0.75"/></radialGradient><pattern id="p0-c2-2" width="1" height="1" patternContentUnits="objectBoundingBox"><rect width="1" height="1" fill="url(#p0-c2-2b)"/><rect width="1" height="1" fill="url(#p0-c2-2r)"/></pattern>
</defs>
<rect x="-15.6" y="-21.7" width="292.7" height="144.3" fill="#f6f1e8"/>
<rect x="-15.6" y="108.0" width="292.7" height="14.6" fill="#e9e0d1"/>
<path fill="#d8ccba" fill-opacity=".75" transform="translate(162.7 41.0)" d="M0 0c3.2 0 5 2.4 5 5.2s-1.7 5.6-3.2 6.4v2c4.4.8 7.4 2.2 8 6l1.8 19.6c.2 2.6-2.6 3-3.2.6l-2.9-14.4L6 41l-1 25c-.1 1.4-4.2 1.4-4.3 0L0 43l-.7 23c-.1 1.4-4.2 1.4-4.3 0l-1-25 .5-15.8-2.9 14.4c-.6 2.4-3.4 2-3.2-.6L-9.8 19.6c.6-3.8 3.6-5.2 8-6v-2C-3.3 10.8-5 8-5 5.2S-3.2 0 0 0z"/>
<rect x="-15.6" y="-3.0" width="292.7" height="3.0" fill="#7f6c58"/>
<rect x="-15.6" y="-0.8" width="292.7" height="0.8" fill="#5f4f40"/>
<path d="M9.0 8.4L24.2 18.1L40.9 25.2L58.5 29.0L72.1 29.4L85.5 27.7L102.8 22.3L118.8 14.0L133.4 3.3L148.0 14.0L164.1 22.3L181.3 27.7L199.3 29.5L212.8 28.4L230.3 23.7L242.6 18.1L257.9 8.4" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="23.8" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M9.0 8.4L24.2 18.1L40.9 25.2L58.5 29.0L72.1 29.4L85.5 27.7L102.8 22.3L118.8 14.0L133.4 3.3L148.0 14.0L164.1 22.3L181.3 27.7L199.3 29.5L212.8 28.4L230.3 23.7L242.6 18.1L257.9 8.4" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="20.7" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M9.0 8.4L24.2 18.1L40.9 25.2L58.5 29.0L72.1 29.4L85.5 27.7L102.8 22.3L118.8 14.0L133.4 3.3L148.0 14.0L164.1 22.3L181.3 27.7L199.3 29.5L212.8 28.4L230.3 23.7L242.6 18.1L257.9 8.4" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="17.6" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M9.0 8.4L24.2 18.1L40.9 25.2L58.5 29.0L72.1 29.4L85.5 27.7L102.8 22.3L118.8 14.0L133.4 3.3L148.0 14.0L164.1 22.3L181.3 27.7L199.3 29.5L212.8 28.4L230.3 23.7L242.6 18.1L257.9 8.4" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="14.5" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M9.0 8.4L24.2 18.1L40.9 25.2L58.5 29.0L72.1 29.4L85.5 27.7L102.8 22.3L118.8 14.0L133.4 3.3L148.0 14.0L164.1 22.3L181.3 27.7L199.3 29.5L212.8 28.4L230.3 23.7L242.6 18.1L257.9 8.4" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="11.4" stroke-linecap="round" stroke-linejoin="round"/>
<circle cx="155.7" cy="17.2" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="166.1" cy="20.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="139.5" cy="6" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="86.6" cy="26.4" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="143.8" cy="16.5" r="7" fill="url(#p0-c0-0)"/>
<circle cx="233.2" cy="17.2" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="207.2" cy="28.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="197.8" cy="27.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="216.2" cy="25.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="65.8" cy="27.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="13.1" cy="13.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="227.7" cy="24.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="188" cy="30.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="253.2" cy="6.5" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="51.3" cy="22.4" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="174.2" cy="23.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="105.9" cy="16.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="27.7" cy="20.9" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="42.9" cy="25.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="9.5" cy="5.7" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="244.4" cy="7.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="129.2" cy="4.2" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="36.8" cy="18.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="134.9" cy="-1.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="122.1" cy="9.3" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="78.4" cy="29.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="52.2" cy="33.3" r="7" fill="url(#p0-c1-0)"/>
<circle cx="120.1" cy="1.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="112.8" cy="9.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="22" cy="15.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="114.8" cy="17.6" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="73.3" cy="22.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="182.8" cy="24.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="99.9" cy="21.6" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="64.7" cy="20.2" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="33.9" cy="26.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="249" cy="14.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="121.6" cy="16.1" r="2.375" fill="url(#p0-c1-0)"/>
<circle cx="2.6" cy="10.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="91.2" cy="20.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="217" cy="17.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="17.4" cy="20.7" r="2.375" fill="url(#p0-c0-0)"/>
<circle cx="82" cy="20.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="208.5" cy="21.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="238.9" cy="25.2" r="7" fill="url(#p0-c0-0)"/>
<circle cx="239.7" cy="14.3" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="58" cy="25" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="225.5" cy="17.2" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="185.9" cy="18.1" r="2.375" fill="url(#p0-c0-0)"/>
<circle cx="18.2" cy="7.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="146.7" cy="6.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="152.3" cy="12.3" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="190.5" cy="23.4" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="199" cy="21" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="258.9" cy="11.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="30.1" cy="13.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="127" cy="-3.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="160.9" cy="12.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="178.1" cy="17.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="96.6" cy="14.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="161" cy="21.1" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="177.2" cy="30.2" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="2.4" cy="1.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="95.6" cy="30.3" r="7" fill="url(#p0-c0-1)"/>
<circle cx="136.1" cy="10.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="153.7" cy="5.9" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="152.5" cy="21.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="44.7" cy="18.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="169.5" cy="18" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="104.4" cy="10" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="232.1" cy="11.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="62.5" cy="32.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="108.4" cy="22.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="71.8" cy="30.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="221.5" cy="24.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="140.4" cy="1.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="249.6" cy="-1.1" r="7" fill="url(#p0-c2-1)"/>
<circle cx="259" cy="3.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="194.8" cy="31.3" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="203.8" cy="28.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="166.4" cy="29" r="7" fill="url(#p0-c2-1)"/>
<circle cx="85.2" cy="28.5" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="127.2" cy="10.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="15.1" cy="15.8" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="78.6" cy="32.2" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="193.8" cy="18.9" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="140.4" cy="14.9" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="12.4" cy="-0.9" r="7" fill="url(#p0-c1-1)"/>
<circle cx="47.6" cy="26.2" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="118.4" cy="13.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="53.5" cy="19.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="185.8" cy="30" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="213.9" cy="32" r="7" fill="url(#p0-c0-1)"/>
<circle cx="229.7" cy="24" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="123.4" cy="3.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="32.6" cy="21.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="252" cy="16.1" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="131.9" cy="2.9" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="115.3" cy="19.6" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="90.5" cy="15.8" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="61.8" cy="19.8" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="220.3" cy="16.2" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="0.3" cy="7.2" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="166" cy="13.2" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="40" cy="25.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="37.1" cy="15.3" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="244.3" cy="8.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="157.2" cy="9.6" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="110.9" cy="14.3" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="252.8" cy="9.3" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="64.7" cy="26.1" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="7.2" cy="8.5" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="23.7" cy="12.4" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="245.1" cy="17.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="77.8" cy="25.4" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="146.9" cy="16" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="175.7" cy="23.5" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="101.9" cy="24.4" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="237.7" cy="11.2" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="214.6" cy="21.2" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="102.8" cy="17.4" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="22.9" cy="23.1" r="7" fill="url(#p0-c0-2)"/>
<circle cx="113" cy="3.9" r="7" fill="url(#p0-c2-2)"/>
<circle cx="85.8" cy="20.8" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="236" cy="18" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="95" cy="21.1" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="55.6" cy="28.1" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="205.3" cy="21.8" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="156.2" cy="16.3" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="141.4" cy="8.6" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="159.7" cy="24" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="196.5" cy="24.6" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="127.1" cy="-1.7" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="134.6" cy="-6.7" r="7" fill="url(#p0-c0-2)"/>
<circle cx="94.5" cy="14.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="176.1" cy="17" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="150.7" cy="8.7" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="30.5" cy="13.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="226.9" cy="16.9" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="174.5" cy="29.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="59.1" cy="22.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="90.3" cy="26.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="70.6" cy="18.4" r="7" fill="url(#p0-c1-2)"/>
<circle cx="15.6" cy="9" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="179.7" cy="28.8" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="41.8" cy="19.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="47.4" cy="20.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="4" cy="2.8" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="164.7" cy="19.3" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="61.3" cy="31" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="191.4" cy="29" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="185.8" cy="20.4" r="7" fill="url(#p0-c1-2)"/>
<circle cx="232.6" cy="12.8" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="108.7" cy="19.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="255.1" cy="3.5" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="224.4" cy="23.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="137.3" cy="2.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="120.7" cy="8.4" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="72" cy="27.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="240.5" cy="13.2" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="127.9" cy="6.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="206.8" cy="28.2" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="219" cy="25.7" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="249" cy="5.3" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="29.6" cy="17.3" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="18.8" cy="15.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="37.6" cy="20.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="202.2" cy="27.5" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="83.2" cy="26.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="51.1" cy="23.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="210.5" cy="25.3" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="127.4" cy="1.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="145.8" cy="11.7" r="2.375" fill="url(#p0-c0-2)"/>
<text x="-5.9" y="117.8" font-size="9.8" font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">24 ft × 20 in</text>
</svg>',1);
INSERT INTO "bookings_quotepiece" VALUES(2,0,'Garland over the doorway','garland','{"length_mm": "9144.0", "width_mm": "558.8", "mix": [[5, 30], [11, 62], [16, 8]], "colours": [["1", 55], ["8", 25], ["2", 20]], "outdoors": false, "shape": "doorway", "seed": 7}','{}','30 ft × 22 in, 258 balloons',258,'[{"name": "Black", "swatch": "#1b1b1f", "ink": "#fffdf9", "count": 142}, {"name": "Gold metallic", "swatch": "#c79a3e", "ink": "#211c2b", "count": 64}, {"name": "White", "swatch": "#f6f4f0", "ink": "#211c2b", "count": 52}]',52969,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-14.7 -18.6 281.9 153.6" role="img" aria-labelledby="p0-title p0-desc">
<title id="p0-title">Garland over the doorway</title>
<desc id="p0-desc">Garland, 30 ft × 22 in. 258 balloons: 142 ⁨Black⁩ (43 5-inch, 88 11-inch, 11 16-inch), 64 ⁨Gold metallic⁩ (19 5-inch, 40 11-inch, 5 16-inch), 52 ⁨White⁩ (16 5-inch, 32 11-inch, 4 16-inch).</desc>
<defs>
<radialGradient id="p0-c0-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cecbc8"/><stop offset="0.07" stop-color="#aaa7a6"/><stop offset="0.17" stop-color="#545155"/><stop offset="0.48" stop-color="#1e1b22"/><stop offset="0.8" stop-color="#201b24"/><stop offset="0.96" stop-color="#221b25"/><stop offset="1" stop-color="#211b24"/></radialGradient>
<radialGradient id="p0-c0-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cdcbc8"/><stop offset="0.07" stop-color="#a9a7a5"/><stop offset="0.17" stop-color="#525154"/><stop offset="0.48" stop-color="#1c1b20"/><stop offset="0.8" stop-color="#1f1b22"/><stop offset="0.96" stop-color="#211b24"/><stop offset="1" stop-color="#201b23"/></radialGradient>
<radialGradient id="p0-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cdcbc7"/><stop offset="0.07" stop-color="#a8a7a5"/><stop offset="0.17" stop-color="#525153"/><stop offset="0.48" stop-color="#1b1b1f"/><stop offset="0.8" stop-color="#1e1b21"/><stop offset="0.96" stop-color="#201b23"/><stop offset="1" stop-color="#1f1b23"/></radialGradient>
<radialGradient id="p0-c1-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#efede8"/><stop offset="0.07" stop-color="#e4e1de"/><stop offset="0.17" stop-color="#c9c5c4"/><stop offset="0.48" stop-color="#b8b3b4"/><stop offset="0.8" stop-color="#928b90"/><stop offset="0.96" stop-color="#726a71"/><stop offset="1" stop-color="#7e767c"/></radialGradient>
<radialGradient id="p0-c1-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f8f5f0"/><stop offset="0.07" stop-color="#f2f0eb"/><stop offset="0.17" stop-color="#e5e2df"/><stop offset="0.48" stop-color="#dddad8"/><stop offset="0.8" stop-color="#ada8aa"/><stop offset="0.96" stop-color="#857e84"/><stop offset="1" stop-color="#948d92"/></radialGradient>
<radialGradient id="p0-c1-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#fdfbf5"/><stop offset="0.07" stop-color="#fcfaf4"/><stop offset="0.17" stop-color="#f8f6f2"/><stop offset="0.48" stop-color="#f6f4f0"/><stop offset="0.8" stop-color="#c0bbbc"/><stop offset="0.96" stop-color="#928b90"/><stop offset="1" stop-color="#a39da0"/></radialGradient>
<radialGradient id="p0-c2-0b" cx=".58" cy="1.5" r="1.5"><stop offset="0.3333" stop-color="#5e4730"/><stop offset="0.4133" stop-color="#7c5e33"/><stop offset="0.5067" stop-color="#a68752"/><stop offset="0.57" stop-color="#b69d71"/><stop offset="0.6" stop-color="#654c30"/><stop offset="0.6333" stop-color="#6a5031"/><stop offset="0.72" stop-color="#977437"/><stop offset="0.82" stop-color="#cbb897"/><stop offset="0.8867" stop-color="#dcceb6"/><stop offset="1" stop-color="#977437"/></radialGradient><radialGradient id="p0-c2-0r" r=".52"><stop offset=".7" stop-color="#42302c" stop-opacity="0"/><stop offset="1" stop-color="#42302c" stop-opacity="0.75"/></radialGradient><pattern id="p0-c2-0" width="1" height="1" patternContentUnits="objectBoundingBox"><rect width="1" height="1" fill="url(#p0-c2-0b)"/><rect width="1" height="1" fill="url(#p0-c2-0r)"/></pattern>
<radialGradient id="p0-c2-1b" cx=".58" cy="1.5" r="1.5"><stop offset="0.3333" stop-color="#6d5232"/><stop offset="0.4133" stop-color="#927036"/><stop offset="0.5067" stop-color="#be9b55"/><stop offset="0.57" stop-color="#caad73"/><stop offset="0.6" stop-color="#765933"/><stop offset="0.6333" stop-color="#7b5e33"/><stop offset="0.72" stop-color="#b48b3b"/><stop offset="0.82" stop-color="#dac499"/><stop offset="0.8867" stop-color="#e6d6b7"/><stop offset="1" stop-color="#b48b3b"/></radialGradient><radialGradient id="p0-c2-1r" r=".52"><stop offset=".7" stop-color="#4a362d" stop-opacity="0"/><stop offset="1" stop-color="#4a362d" stop-opacity="0.75"/></radialGradient><pattern id="p0-c2-1" width="1" height="1" patternContentUnits="objectBoundingBox"><rect width="1" height="1" fill="url(#p0-c2-1b)"/><rect width="1" height="1" fill="url(#p0-c2-1r)"/></pattern>
<radialGradient id="p0-c2-2b" cx=".58" cy="1.5" r="1.5"><stop offset="0.3333" stop-color="#765a33"/><stop offset="0.4133" stop-color="#a07b39"/><stop offset="0.5067" stop-color="#cfa858"/><stop offset="0.57" stop-color="#d8b876"/><stop offset="0.6" stop-color="#806234"/><stop offset="0.6333" stop-color="#876735"/><stop offset="0.72" stop-color="#c79a3e"/><stop offset="0.82" stop-color="#e3cc9a"/><stop offset="0.8867" stop-color="#ecdbb8"/><stop offset="1" stop-color="#c79a3e"/></radialGradient><radialGradient id="p0-c2-2r" r=".52"><stop offset=".7" stop-color="#4e3a2e" stop-opacity="0"/><stop offset="1" stop-color="#4e3a2e" stop-opacity="0.75"/></radialGradient><pattern id="p0-c2-2" width="1" height="1" patternContentUnits="objectBoundingBox"><rect width="1" height="1" fill="url(#p0-c2-2b)"/><rect width="1" height="1" fill="url(#p0-c2-2r)"/></pattern>
</defs>
<rect x="-14.7" y="-18.6" width="281.9" height="153.6" fill="#f6f1e8"/>
<rect x="-14.7" y="120.9" width="281.9" height="14.1" fill="#e9e0d1"/>
<rect x="181.6" y="36.9" width="44.0" height="84.0" fill="#d8ccba"/>
<rect x="185.6" y="40.9" width="36.0" height="80.0" fill="#eee6d9"/>
<rect x="190.6" y="45.9" width="26" height="30" fill="none" stroke="#d8ccba" stroke-width=".8"/>
<rect x="190.6" y="81.9" width="26" height="33" fill="none" stroke="#d8ccba" stroke-width=".8"/>
<rect x="187.8" y="80.9" width="1.4" height="5.0" fill="#7f6c58"/>
<rect x="-14.7" y="-3.0" width="281.9" height="3.0" fill="#7f6c58"/>
<rect x="-14.7" y="-0.8" width="281.9" height="0.8" fill="#5f4f40"/>
<path d="M10.6 8.3L36.1 20.9L63.0 30.2L90.9 35.7L119.3 37.0L147.6 34.2L169.8 29.0L196.5 19.1L226.8 3.7L232.3 5.3L236.6 8.9L239.2 13.9L240.9 30.9L240.9 53.7L238.3 87.7L239.0 110.5" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="26.2" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.6 8.3L36.1 20.9L63.0 30.2L90.9 35.7L119.3 37.0L147.6 34.2L169.8 29.0L196.5 19.1L226.8 3.7L232.3 5.3L236.6 8.9L239.2 13.9L240.9 30.9L240.9 53.7L238.3 87.7L239.0 110.5" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="22.8" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.6 8.3L36.1 20.9L63.0 30.2L90.9 35.7L119.3 37.0L147.6 34.2L169.8 29.0L196.5 19.1L226.8 3.7L232.3 5.3L236.6 8.9L239.2 13.9L240.9 30.9L240.9 53.7L238.3 87.7L239.0 110.5" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="19.4" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.6 8.3L36.1 20.9L63.0 30.2L90.9 35.7L119.3 37.0L147.6 34.2L169.8 29.0L196.5 19.1L226.8 3.7L232.3 5.3L236.6 8.9L239.2 13.9L240.9 30.9L240.9 53.7L238.3 87.7L239.0 110.5" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="15.9" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.6 8.3L36.1 20.9L63.0 30.2L90.9 35.7L119.3 37.0L147.6 34.2L169.8 29.0L196.5 19.1L226.8 3.7L232.3 5.3L236.6 8.9L239.2 13.9L240.9 30.9L240.9 53.7L238.3 87.7L239.0 110.5" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="12.5" stroke-linecap="round" stroke-linejoin="round"/>
<circle cx="216.5" cy="6" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="235.5" cy="99.4" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="127.8" cy="33.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="194.7" cy="13.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="54.5" cy="23" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="236.5" cy="12.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="32.3" cy="18.3" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="178.7" cy="19.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="168.4" cy="29.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="236.2" cy="81.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="151.2" cy="32.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="221.6" cy="-1.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="24.7" cy="13.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="238.4" cy="65.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="74.9" cy="28.5" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="92.9" cy="27.2" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="64.6" cy="30.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="236.3" cy="27.5" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="208.3" cy="6.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="239.8" cy="35.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="236.9" cy="44.9" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="134.9" cy="28.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="39.9" cy="23.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="236" cy="3" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="67.7" cy="22.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="159.9" cy="27.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="240" cy="91.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="105.6" cy="30.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="107.6" cy="38" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="233.7" cy="73" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="47.6" cy="18.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="97.4" cy="34.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="201.4" cy="22.2" r="7" fill="url(#p0-c0-0)"/>
<circle cx="8.7" cy="7.2" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="166.8" cy="21.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="233.8" cy="52.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="231.9" cy="89.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="238.9" cy="107.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="32.9" cy="9.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="232.1" cy="19.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="142.3" cy="31.8" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="17.8" cy="8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="114.4" cy="29.6" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="56" cy="31.2" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="231.7" cy="38.1" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="186.2" cy="15.5" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="88.8" cy="32.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="244.5" cy="28.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="199.8" cy="6.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="226.2" cy="8.7" r="7" fill="url(#p0-c1-0)"/>
<circle cx="116.2" cy="37.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="80.6" cy="34.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="230.7" cy="106.4" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="13.2" cy="14.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="240.5" cy="19.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="177.2" cy="27.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="13" cy="-2" r="7" fill="url(#p0-c2-0)"/>
<circle cx="242.5" cy="52.1" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="212.9" cy="-0.5" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="212.6" cy="13.4" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="185.5" cy="24" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="82.9" cy="26.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="229.8" cy="-1.2" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="243.7" cy="43.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="39.8" cy="15.2" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="47.8" cy="27.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="228.5" cy="63.1" r="7" fill="url(#p0-c1-0)"/>
<circle cx="151.6" cy="26.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="134.8" cy="36.4" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="238.4" cy="59.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="241.9" cy="72.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="122.3" cy="32.4" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="142.4" cy="21.2" r="7" fill="url(#p0-c2-1)"/>
<circle cx="204" cy="12.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="59.8" cy="23.9" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="71" cy="33.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="158.2" cy="20.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="25.8" cy="24.3" r="7" fill="url(#p0-c1-1)"/>
<circle cx="245.1" cy="9.5" r="7" fill="url(#p0-c0-1)"/>
<circle cx="51.5" cy="14.5" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="2.8" cy="1.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="245.7" cy="57.8" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="193.2" cy="18.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="231" cy="97.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="126.2" cy="23.6" r="7" fill="url(#p0-c0-1)"/>
<circle cx="229.6" cy="81.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="147.1" cy="37.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="126.8" cy="39" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="98.8" cy="27.5" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="192.1" cy="9.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="240" cy="99.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="163.1" cy="33.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="89.5" cy="41.9" r="7" fill="url(#p0-c2-1)"/>
<circle cx="25.7" cy="7.8" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="75.1" cy="22.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="245" cy="83.2" r="7" fill="url(#p0-c0-1)"/>
<circle cx="64.9" cy="19.2" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="177.1" cy="11" r="7" fill="url(#p0-c2-1)"/>
<circle cx="215.4" cy="6.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="57.8" cy="17.5" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="114.7" cy="24.3" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="20.9" cy="15.3" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="218.8" cy="-6.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="234.2" cy="113.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="174.2" cy="20.6" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="232.7" cy="30.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="151.4" cy="20.2" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="231.1" cy="45.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="169.7" cy="27.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="31.5" cy="14.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="236.7" cy="78.4" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="195.9" cy="4.3" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="243.4" cy="64.2" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="234.6" cy="14.1" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="101.1" cy="37.8" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="67.6" cy="25.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="235.5" cy="7.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="237" cy="38.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="208.5" cy="-2" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="35.7" cy="22.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="222" cy="0.9" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="200.1" cy="2.7" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="47.5" cy="14.4" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="237.7" cy="90.9" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="244.2" cy="35.6" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="43.3" cy="21.2" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="4.9" cy="10" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="51.8" cy="20.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="108.2" cy="26.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="206.7" cy="4.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="109.1" cy="33.8" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="240.2" cy="27.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="90.1" cy="26.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="62.5" cy="32.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="154.1" cy="32.8" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="236.5" cy="-1.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="184.1" cy="28.1" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="206.9" cy="18" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="135.7" cy="28.8" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="14.8" cy="17.8" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="78" cy="29.2" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="238.1" cy="47.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="230.8" cy="72.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="160.8" cy="26.8" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="226.6" cy="-5.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="6.4" cy="-2.6" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="182.8" cy="18.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="185.9" cy="10.7" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="166.2" cy="19.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="145.2" cy="29.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="232.9" cy="54.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="233.5" cy="22.2" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="83.5" cy="23.8" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="230.7" cy="36.7" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="54.4" cy="29" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="93.6" cy="33.3" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="18.6" cy="4.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="13.7" cy="10.9" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="233.6" cy="104.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="229.9" cy="90" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="140.7" cy="35.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="84.8" cy="32.6" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="116.9" cy="29.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="119.3" cy="37.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="110.4" cy="43.1" r="7" fill="url(#p0-c0-1)"/>
<circle cx="241.6" cy="19.1" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="241.4" cy="55.8" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="189.2" cy="23.6" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="199.7" cy="17" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="235.6" cy="62.8" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="229.9" cy="9.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="243.3" cy="109" r="7" fill="url(#p0-c1-2)"/>
<circle cx="209.9" cy="11.6" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="199.4" cy="8.9" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="9.4" cy="3.4" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="177.9" cy="25.9" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="76.1" cy="39.4" r="7" fill="url(#p0-c2-2)"/>
<circle cx="238.8" cy="70.9" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="213.9" cy="0.1" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="229.4" cy="2.7" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="152.6" cy="25.1" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="132.8" cy="36" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="241.8" cy="95.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="125.6" cy="32" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="46.4" cy="27.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="172.1" cy="16.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="247.3" cy="46.6" r="7" fill="url(#p0-c0-2)"/>
<circle cx="240.4" cy="4.3" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="159.6" cy="20.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="230.4" cy="78.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="22.8" cy="18.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="48.7" cy="16.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="190.7" cy="15" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="241.4" cy="40.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="101.4" cy="31" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="17.8" cy="16.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="235.4" cy="83.4" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="244.6" cy="30.3" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="147.4" cy="35.4" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="160.3" cy="32.8" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="126.3" cy="38.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="176.7" cy="17.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="74.5" cy="24.6" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="235" cy="97.1" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="240.8" cy="100.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="70.2" cy="30.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="2.9" cy="5.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="22.6" cy="11.8" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="29.8" cy="11" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="221.1" cy="-4" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="29.6" cy="18.1" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="240.8" cy="87.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="82.8" cy="26.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="234.9" cy="112.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="173.4" cy="20.7" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="234.2" cy="76.5" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="232.2" cy="13.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="149.9" cy="31.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="238.9" cy="11.4" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="97.9" cy="37" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="89.1" cy="36.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="40.2" cy="13.9" r="7" fill="url(#p0-c0-2)"/>
<circle cx="47.2" cy="20.5" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="104.6" cy="36.9" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="238.9" cy="77.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="140" cy="28.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="235.9" cy="3.9" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="211" cy="5.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="38.2" cy="22.8" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="241.4" cy="64.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="8.4" cy="9.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="52.3" cy="24.2" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="242.7" cy="25.1" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="233" cy="68.4" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="232.8" cy="8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="157" cy="30" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="111.8" cy="31.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="131.7" cy="29.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="239.7" cy="92.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="235.3" cy="90.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="89.8" cy="29.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="235.8" cy="17.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="114.3" cy="35.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="60.9" cy="21.5" r="7" fill="url(#p0-c0-2)"/>
<circle cx="238.4" cy="43.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="238.2" cy="24" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="204" cy="12.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="223.6" cy="-0.2" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="237" cy="51.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="219.9" cy="8.7" r="7" fill="url(#p0-c0-2)"/>
<circle cx="61.1" cy="30.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="137.2" cy="31.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="79.6" cy="31.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="107.5" cy="33.3" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="236.1" cy="57.2" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="186" cy="19.3" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="236.8" cy="33.9" r="7" fill="url(#p0-c0-2)"/>
<circle cx="168" cy="27.8" r="7" fill="url(#p0-c0-2)"/>
<text x="-5.3" y="130.3" font-size="9.4" font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">30 ft × 22 in</text>
</svg>',2);
INSERT INTO "bookings_quotepiece" VALUES(3,1,'Big balloon with lettering','lettered','{"colour": "1", "text": "20 years", "size": 36, "decal_width_mm": "254.0", "decal_height_mm": "101.6", "surplus_percent": "2", "script": false, "trim": "tassel", "helium": true, "height_mm": "2133.6", "inner": null, "sealed": false, "outdoors": false, "extras": [], "seed": 1}','{}','Large balloon lettered “⁨20 years⁩” with a tassel, 7 ft high, 1 balloon',1,'[{"name": "Black", "swatch": "#1b1b1f", "ink": "#fffdf9", "count": 1}]',13531,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-57.5 -94 85 102" role="img" aria-labelledby="p1-title p1-desc">
<title id="p1-title">Big balloon with lettering</title>
<desc id="p1-desc">Large balloon lettered “⁨20 years⁩” with a tassel, 7 ft high. 1 balloon: 1 ⁨Black⁩ (36-inch).</desc>
<defs>
<radialGradient id="p1-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cdcbc7"/><stop offset="0.07" stop-color="#a8a7a5"/><stop offset="0.17" stop-color="#525153"/><stop offset="0.48" stop-color="#1b1b1f"/><stop offset="0.8" stop-color="#1e1b21"/><stop offset="0.96" stop-color="#201b23"/><stop offset="1" stop-color="#1f1b23"/></radialGradient>
</defs>
<rect x="-57.5" y="-94.0" width="85.0" height="102.0" fill="#f6f1e8"/>
<rect x="-57.5" y="0.0" width="85.0" height="8.0" fill="#e9e0d1"/>
<path fill="#d8ccba" fill-opacity=".75" transform="translate(-39.5 -67.0)" d="M0 0c3.2 0 5 2.4 5 5.2s-1.7 5.6-3.2 6.4v2c4.4.8 7.4 2.2 8 6l1.8 19.6c.2 2.6-2.6 3-3.2.6l-2.9-14.4L6 41l-1 25c-.1 1.4-4.2 1.4-4.3 0L0 43l-.7 23c-.1 1.4-4.2 1.4-4.3 0l-1-25 .5-15.8-2.9 14.4c-.6 2.4-3.4 2-3.2-.6L-9.8 19.6c.6-3.8 3.6-5.2 8-6v-2C-3.3 10.8-5 8-5 5.2S-3.2 0 0 0z"/>
<path d="M0 -49l.5 3.8 .3 3.9 .1 3.8-.1 3.8-.3 3.9-.5 3.8-.5 3.8-.3 3.9-.1 3.8 .1 3.8 .3 3.9 .5 3.8M0 -49l-.9 2.4-.8 2.4-.8 2.5-.7 2.4-.7 2.4-.7 2.4-.6 2.4-.5 2.5-.4 2.4-.2 2.4 0 2.4 0 2.4M0 -49l-.7 2.5-.7 2.5-.7 2.5-.7 2.5-.5 2.5-.6 2.5-.5 2.5-.4 2.4-.3 2.5-.2 2.5-.2 2.5 0 2.5M0 -49l-.6 2.7-.5 2.8-.6 2.7-.6 2.7-.5 2.8-.4 2.7-.4 2.7-.2 2.7-.3 2.8-.1 2.7-.2 2.7-.2 2.8M0 -49l-.5 2.4-.4 2.3-.5 2.4-.4 2.3-.3 2.4-.3 2.3-.3 2.4-.3 2.4-.3 2.3-.2 2.4-.1 2.3 0 2.4M0 -49l-.3 2.8-.3 2.8-.3 2.8-.3 2.8-.4 2.8-.3 2.8-.2 2.8-.1 2.8 0 2.8 0 2.8-.1 2.8-.1 2.8M0 -49l-.2 2.8-.2 2.7-.2 2.8-.2 2.8-.1 2.8-.1 2.7-.1 2.8-.2 2.8-.1 2.8-.2 2.7 0 2.8 .1 2.8M0 -49l-.1 2.9-.1 2.9 0 2.8 0 2.9 0 2.9 0 2.9-.1 2.9-.2 2.8-.1 2.9-.1 2.9 .1 2.9 .1 2.9M0 -49l.1 2.7 0 2.6 0 2.7 .1 2.7 .1 2.6 .1 2.7 .1 2.7 0 2.6 0 2.7-.2 2.6 0 2.7 .1 2.7M0 -49l.2 2.5 .2 2.4 .2 2.5 .2 2.5 .1 2.5 .2 2.4 .1 2.5 .1 2.5 .1 2.4 0 2.5 .1 2.5 0 2.4M0 -49l.3 2.5 .4 2.4 .3 2.5 .2 2.5 .3 2.5 .3 2.4 .2 2.5 .2 2.5 .1 2.5 .1 2.4 .1 2.5 0 2.5M0 -49l.4 2.5 .5 2.5 .5 2.4 .4 2.5 .4 2.5 .3 2.5 .2 2.5 .2 2.4 .2 2.5 .3 2.5 .1 2.5 .1 2.5M0 -49l.6 2.6 .5 2.6 .6 2.6 .6 2.7 .5 2.6 .4 2.6 .4 2.6 .3 2.6 .2 2.6 .2 2.7 .1 2.6 .1 2.6M0 -49l.7 2.8 .7 2.9 .7 2.8 .7 2.9 .6 2.8 .5 2.9 .5 2.8 .3 2.8 .4 2.9 .2 2.8 .2 2.9 0 2.8M0 -49l.8 2.5 .9 2.4 .8 2.5 .8 2.4 .7 2.5 .5 2.4 .5 2.5 .5 2.4 .5 2.5 .4 2.4 .3 2.5 0 2.4" fill="none" stroke="#9c8562" stroke-width="0.35" stroke-linejoin="round"/>
<path d="M0 -3l-2 3h4z" fill="#5a4a5e" stroke="#3d3041" stroke-width=".8" stroke-linejoin="round"/>
<path d="M0 -2.8l-1.5 -.9v1.6zM0 -2.8l1.5 -.9v1.6z" fill="#3d3041"/>
<circle cx="0" cy="-66.5" r="17.5" fill="url(#p1-c0-2)"/>
<text x="0" y="-66.8" font-size="2.2" text-anchor="middle" font-family="Bricolage Grotesque, Bricolage Grotesque Extended, Atkinson Hyperlegible Next, sans-serif" font-weight="700" fill="#fffdf7">20</text>
<text x="0" y="-64.5" font-size="2.2" text-anchor="middle" font-family="Bricolage Grotesque, Bricolage Grotesque Extended, Atkinson Hyperlegible Next, sans-serif" font-weight="700" fill="#fffdf7">years</text>
</svg>',2);
INSERT INTO "bookings_quotepiece" VALUES(4,0,'Garland along the beam','garland','{"length_mm": "7315.2", "width_mm": "558.8", "mix": [[5, 30], [11, 62], [16, 8]], "colours": [["3", 40], ["4", 30], ["5", 20], ["6", 10]], "outdoors": false, "shape": "doorway", "seed": 11}','{}','24 ft × 22 in, 206 balloons',206,'[{"name": "Ink", "swatch": "#22314f", "ink": "#fffdf9", "count": 82}, {"name": "Sand", "swatch": "#e3d3b8", "ink": "#211c2b", "count": 62}, {"name": "Terracotta", "swatch": "#c4694a", "ink": "#211c2b", "count": 41}, {"name": "Sage", "swatch": "#9caf8f", "ink": "#211c2b", "count": 21}]',40017,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-12.5 -18.8 208.7 148.2" role="img" aria-labelledby="p0-title p0-desc">
<title id="p0-title">Garland along the beam</title>
<desc id="p0-desc">Garland, 24 ft × 22 in. 206 balloons: 82 ⁨Ink⁩ (25 5-inch, 51 11-inch, 6 16-inch), 62 ⁨Sand⁩ (19 5-inch, 38 11-inch, 5 16-inch), 41 ⁨Terracotta⁩ (12 5-inch, 26 11-inch, 3 16-inch), 21 ⁨Sage⁩ (6 5-inch, 13 11-inch, 2 16-inch).</desc>
<defs>
<radialGradient id="p0-c0-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cfcfcf"/><stop offset="0.07" stop-color="#abadb3"/><stop offset="0.17" stop-color="#585d6e"/><stop offset="0.48" stop-color="#232a43"/><stop offset="0.8" stop-color="#24263c"/><stop offset="0.96" stop-color="#242236"/><stop offset="1" stop-color="#242438"/></radialGradient>
<radialGradient id="p0-c0-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#cecfd1"/><stop offset="0.07" stop-color="#abaeb5"/><stop offset="0.17" stop-color="#576074"/><stop offset="0.48" stop-color="#222e4a"/><stop offset="0.8" stop-color="#232941"/><stop offset="0.96" stop-color="#24243a"/><stop offset="1" stop-color="#24263c"/></radialGradient>
<radialGradient id="p0-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#ced0d2"/><stop offset="0.07" stop-color="#abafb7"/><stop offset="0.17" stop-color="#576277"/><stop offset="0.48" stop-color="#22314f"/><stop offset="0.8" stop-color="#232b45"/><stop offset="0.96" stop-color="#24263c"/><stop offset="1" stop-color="#24283f"/></radialGradient>
<radialGradient id="p0-c1-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#ece8e0"/><stop offset="0.07" stop-color="#dfd8cf"/><stop offset="0.17" stop-color="#beb3a6"/><stop offset="0.48" stop-color="#aa9c8d"/><stop offset="0.8" stop-color="#887a73"/><stop offset="0.96" stop-color="#6b5e5d"/><stop offset="1" stop-color="#756865"/></radialGradient>
<radialGradient id="p0-c1-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f4efe5"/><stop offset="0.07" stop-color="#ece5d9"/><stop offset="0.17" stop-color="#d8ccba"/><stop offset="0.48" stop-color="#ccbda7"/><stop offset="0.8" stop-color="#a19386"/><stop offset="0.96" stop-color="#7c6f6a"/><stop offset="1" stop-color="#8a7c74"/></radialGradient>
<radialGradient id="p0-c1-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f9f4e9"/><stop offset="0.07" stop-color="#f4eddf"/><stop offset="0.17" stop-color="#eaddc7"/><stop offset="0.48" stop-color="#e3d3b8"/><stop offset="0.8" stop-color="#b2a393"/><stop offset="0.96" stop-color="#887a73"/><stop offset="1" stop-color="#97897e"/></radialGradient>
<radialGradient id="p0-c2-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e8d7cf"/><stop offset="0.07" stop-color="#d7bcb1"/><stop offset="0.17" stop-color="#ae7a6c"/><stop offset="0.48" stop-color="#955140"/><stop offset="0.8" stop-color="#78433a"/><stop offset="0.96" stop-color="#603734"/><stop offset="1" stop-color="#693b36"/></radialGradient>
<radialGradient id="p0-c2-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#eedad0"/><stop offset="0.07" stop-color="#e1c1b4"/><stop offset="0.17" stop-color="#c48670"/><stop offset="0.48" stop-color="#b16046"/><stop offset="0.8" stop-color="#8d4e3e"/><stop offset="0.96" stop-color="#6e3e38"/><stop offset="1" stop-color="#79443a"/></radialGradient>
<radialGradient id="p0-c2-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f2dcd1"/><stop offset="0.07" stop-color="#e9c5b5"/><stop offset="0.17" stop-color="#d28d74"/><stop offset="0.48" stop-color="#c4694a"/><stop offset="0.8" stop-color="#9b5441"/><stop offset="0.96" stop-color="#78433a"/><stop offset="1" stop-color="#85493c"/></radialGradient>
<radialGradient id="p0-c3-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e2e2d9"/><stop offset="0.07" stop-color="#cccec4"/><stop offset="0.17" stop-color="#99a090"/><stop offset="0.48" stop-color="#798270"/><stop offset="0.8" stop-color="#63675d"/><stop offset="0.96" stop-color="#51504d"/><stop offset="1" stop-color="#585853"/></radialGradient>
<radialGradient id="p0-c3-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e6e8dd"/><stop offset="0.07" stop-color="#d4d9cb"/><stop offset="0.17" stop-color="#a9b49f"/><stop offset="0.48" stop-color="#8e9d83"/><stop offset="0.8" stop-color="#737b6b"/><stop offset="0.96" stop-color="#5c5e57"/><stop offset="1" stop-color="#64695f"/></radialGradient>
<radialGradient id="p0-c3-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e9ece0"/><stop offset="0.07" stop-color="#d9dfcf"/><stop offset="0.17" stop-color="#b4c2a8"/><stop offset="0.48" stop-color="#9caf8f"/><stop offset="0.8" stop-color="#7d8874"/><stop offset="0.96" stop-color="#63675e"/><stop offset="1" stop-color="#6d7366"/></radialGradient>
</defs>
<rect x="-12.5" y="-18.8" width="208.7" height="148.2" fill="#f6f1e8"/>
<rect x="-12.5" y="119.0" width="208.7" height="10.4" fill="#e9e0d1"/>
<rect x="113.8" y="35.0" width="44.0" height="84.0" fill="#d8ccba"/>
<rect x="117.8" y="39.0" width="36.0" height="80.0" fill="#eee6d9"/>
<rect x="122.8" y="44.0" width="26" height="30" fill="none" stroke="#d8ccba" stroke-width=".8"/>
<rect x="122.8" y="80.0" width="26" height="33" fill="none" stroke="#d8ccba" stroke-width=".8"/>
<rect x="120.0" y="79.0" width="1.4" height="5.0" fill="#7f6c58"/>
<rect x="-12.5" y="-3.0" width="208.7" height="3.0" fill="#7f6c58"/>
<rect x="-12.5" y="-0.8" width="208.7" height="0.8" fill="#5f4f40"/>
<path d="M10.4 8.1L30.8 17.5L48.0 22.9L65.7 26.0L83.7 26.8L97.1 25.7L114.8 22.3L136.0 14.9L156.0 4.5L160.2 3.8L164.5 5.4L168.0 8.2L170.4 11.9L172.7 29.7L172.9 52.2L170.2 88.1L170.8 110.6" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="25.6" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.4 8.1L30.8 17.5L48.0 22.9L65.7 26.0L83.7 26.8L97.1 25.7L114.8 22.3L136.0 14.9L156.0 4.5L160.2 3.8L164.5 5.4L168.0 8.2L170.4 11.9L172.7 29.7L172.9 52.2L170.2 88.1L170.8 110.6" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="22.3" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.4 8.1L30.8 17.5L48.0 22.9L65.7 26.0L83.7 26.8L97.1 25.7L114.8 22.3L136.0 14.9L156.0 4.5L160.2 3.8L164.5 5.4L168.0 8.2L170.4 11.9L172.7 29.7L172.9 52.2L170.2 88.1L170.8 110.6" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="19.0" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.4 8.1L30.8 17.5L48.0 22.9L65.7 26.0L83.7 26.8L97.1 25.7L114.8 22.3L136.0 14.9L156.0 4.5L160.2 3.8L164.5 5.4L168.0 8.2L170.4 11.9L172.7 29.7L172.9 52.2L170.2 88.1L170.8 110.6" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="15.6" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M10.4 8.1L30.8 17.5L48.0 22.9L65.7 26.0L83.7 26.8L97.1 25.7L114.8 22.3L136.0 14.9L156.0 4.5L160.2 3.8L164.5 5.4L168.0 8.2L170.4 11.9L172.7 29.7L172.9 52.2L170.2 88.1L170.8 110.6" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="12.3" stroke-linecap="round" stroke-linejoin="round"/>
<circle cx="141.7" cy="7.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="41.7" cy="20.6" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="125.8" cy="13.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="169.2" cy="8.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="116.9" cy="14.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="170.4" cy="46.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="172.8" cy="28.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="157" cy="1.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="55.1" cy="23.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="98.8" cy="17.2" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="5.7" cy="3.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="72.2" cy="23.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="168.9" cy="37.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="80.5" cy="18.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="165.5" cy="99.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="25.4" cy="14.3" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="167.5" cy="73.1" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="170.3" cy="91.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="169.5" cy="64.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="90.7" cy="21.2" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="63.5" cy="22.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="179.2" cy="53.7" r="7" fill="url(#p0-c0-0)"/>
<circle cx="33" cy="18.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="165.5" cy="0.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="134.4" cy="12.4" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="17.3" cy="3.6" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="167.7" cy="21.8" r="4.75" fill="url(#p0-c3-0)"/>
<circle cx="167.5" cy="82.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="162.3" cy="89.4" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="150" cy="7.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="49.2" cy="16.6" r="4.75" fill="url(#p0-c3-0)"/>
<circle cx="83.5" cy="26.1" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="105.5" cy="22.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="12.5" cy="9.9" r="4.75" fill="url(#p0-c3-0)"/>
<circle cx="171" cy="106.2" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="144.6" cy="0.1" r="4.75" fill="url(#p0-c3-0)"/>
<circle cx="162.8" cy="107.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="109.2" cy="15.6" r="4.75" fill="url(#p0-c3-0)"/>
<circle cx="169.7" cy="55.3" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="121.3" cy="21.4" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="175.4" cy="20.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="163.8" cy="14.7" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="129.3" cy="6.4" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="112.7" cy="24.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="159.6" cy="65.5" r="7" fill="url(#p0-c0-0)"/>
<circle cx="162.6" cy="54.8" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="67.9" cy="13.3" r="7" fill="url(#p0-c3-0)"/>
<circle cx="33.2" cy="10.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="176.3" cy="35.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="76.1" cy="29.8" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="47.6" cy="24.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="157.9" cy="-4.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="24.7" cy="7.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="166.4" cy="29.8" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="143.2" cy="12.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="162.9" cy="7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="40.5" cy="15.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="171.8" cy="13" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="66.8" cy="29.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="159.5" cy="102" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="176.4" cy="102.7" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="57.7" cy="17.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="161.7" cy="77.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="97.7" cy="23.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="18.8" cy="14.9" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="173.7" cy="70.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="138.5" cy="-1.2" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="174.2" cy="80.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="90.8" cy="28.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="121.6" cy="10" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="171.6" cy="97.7" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="178.2" cy="15.5" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="127.6" cy="16.8" r="4.75" fill="url(#p0-c3-1)"/>
<circle cx="138.3" cy="5.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="80" cy="14.7" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="166.5" cy="47.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="175.2" cy="45.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="10.8" cy="1.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="38.4" cy="23.8" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="150.2" cy="-0.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="76.5" cy="21.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="175.1" cy="62.2" r="4.75" fill="url(#p0-c3-1)"/>
<circle cx="26.9" cy="20.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="5.1" cy="8.9" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="116.2" cy="16.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="57.6" cy="26.4" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="170.4" cy="4.2" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="93.3" cy="16.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="102.4" cy="16.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="160.3" cy="37.8" r="7" fill="url(#p0-c2-1)"/>
<circle cx="2.3" cy="0.7" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="162.6" cy="95.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="85.1" cy="19.3" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="156.1" cy="3.9" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="136.7" cy="16.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="174.5" cy="27.8" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="174.6" cy="89.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="169.7" cy="38.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="124.7" cy="23" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="167.4" cy="88.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="67.8" cy="21.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="102.7" cy="30.7" r="7" fill="url(#p0-c1-1)"/>
<circle cx="167" cy="61.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="167.2" cy="111.3" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="165" cy="103" r="4.75" fill="url(#p0-c3-1)"/>
<circle cx="159.8" cy="11.5" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="163.5" cy="22.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="177.7" cy="19" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="165.8" cy="72.1" r="4.75" fill="url(#p0-c3-1)"/>
<circle cx="148.5" cy="7.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="17.5" cy="6.9" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="51.2" cy="18.6" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="37.5" cy="11.1" r="2.375" fill="url(#p0-c3-1)"/>
<circle cx="24.8" cy="14.1" r="4.75" fill="url(#p0-c3-1)"/>
<circle cx="176.4" cy="99.7" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="173.2" cy="54" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="12.1" cy="13.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="112.5" cy="27" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="46.5" cy="9.6" r="7" fill="url(#p0-c1-1)"/>
<circle cx="166.8" cy="-5.8" r="7" fill="url(#p0-c2-1)"/>
<circle cx="83" cy="27" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="173.2" cy="105.7" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="131.6" cy="10" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="170.9" cy="20.3" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="61.2" cy="14.3" r="2.375" fill="url(#p0-c2-1)"/>
<circle cx="33.8" cy="17" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="109" cy="21" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="97.5" cy="12.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="43.2" cy="26.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="167.9" cy="80.7" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="118.1" cy="22.8" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="15.8" cy="0.3" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="158.4" cy="85.4" r="7" fill="url(#p0-c1-2)"/>
<circle cx="166" cy="12.5" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="177.4" cy="48.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="6.3" cy="-3.6" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="42.6" cy="19.6" r="4.75" fill="url(#p0-c3-2)"/>
<circle cx="177.1" cy="22.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="165.4" cy="53.4" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="18" cy="16.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="73.9" cy="27.3" r="4.75" fill="url(#p0-c3-2)"/>
<circle cx="111.4" cy="10.3" r="7" fill="url(#p0-c0-2)"/>
<circle cx="91.6" cy="23.7" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="164.7" cy="44.2" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="120.4" cy="8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="173.3" cy="74.3" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="176.8" cy="41.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="49.9" cy="25.5" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="162.2" cy="77.2" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="125.1" cy="8.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="167.5" cy="30.1" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="122" cy="14.5" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="163.2" cy="3.6" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="135" cy="4.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="140.8" cy="10" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="64.7" cy="16.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="156.3" cy="-2.8" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="58.9" cy="20.4" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="158.1" cy="8.1" r="2.375" fill="url(#p0-c3-2)"/>
<circle cx="64.7" cy="27.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="174.8" cy="35" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="170.9" cy="65.9" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="163.4" cy="66.4" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="100.1" cy="21.7" r="4.75" fill="url(#p0-c3-2)"/>
<circle cx="36.6" cy="22.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="89" cy="17.3" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="174.6" cy="60.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="171.1" cy="45.8" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="151.7" cy="2.4" r="2.375" fill="url(#p0-c3-2)"/>
<circle cx="176.2" cy="11.1" r="7" fill="url(#p0-c2-2)"/>
<circle cx="142.9" cy="-0.7" r="7" fill="url(#p0-c0-2)"/>
<circle cx="30.2" cy="6.9" r="7" fill="url(#p0-c1-2)"/>
<circle cx="38.8" cy="13.3" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="99.4" cy="15.1" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="153.7" cy="6.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="161.9" cy="93.3" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="104.8" cy="16.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="94.6" cy="17.7" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="166.5" cy="40.7" r="2.375" fill="url(#p0-c3-2)"/>
<circle cx="170.6" cy="86.2" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="76.4" cy="16.8" r="7" fill="url(#p0-c0-2)"/>
<circle cx="21.4" cy="9.9" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="172.9" cy="26.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="166.4" cy="107" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="84.8" cy="21.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="170.2" cy="59.1" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="17" cy="11.4" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="156.9" cy="3.6" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="168.3" cy="36.5" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="113.9" cy="18.7" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="20.5" cy="14.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="65.5" cy="20.6" r="2.375" fill="url(#p0-c3-2)"/>
<circle cx="166" cy="75.8" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="28.8" cy="16.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="168.2" cy="7.1" r="2.375" fill="url(#p0-c3-2)"/>
<circle cx="127.2" cy="11" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="130" cy="19.9" r="7" fill="url(#p0-c1-2)"/>
<circle cx="69.5" cy="22.9" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="135.3" cy="12.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="48.2" cy="19.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="79.5" cy="25.3" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="168" cy="71.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="149.3" cy="5.6" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="8.8" cy="4.4" r="7" fill="url(#p0-c3-2)"/>
<circle cx="169.9" cy="96.9" r="7" fill="url(#p0-c0-2)"/>
<circle cx="170.6" cy="52.2" r="2.375" fill="url(#p0-c0-2)"/>
<text x="-5.5" y="126" font-size="7" font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">24 ft × 22 in</text>
</svg>',3);
INSERT INTO "bookings_quotepiece" VALUES(5,1,'Column left of the door','packed','{"form": "column", "colours": [["4", 50], ["2", 50]], "size": 11, "diameter_mm": null, "length_mm": null, "span_mm": null, "rise_mm": null, "height_mm": "1828.8", "per_layer": 4, "pattern": "stripes", "colours_by": "percent", "shape": "swag", "compression_percent": 0, "topper": {"size": 36, "colour": "4", "form": "round", "foil": false}, "base": "weighted", "helium": false, "outdoors": false, "seed": 1, "doubled": [], "extras": []}','{}','Column with a topper, 8 ft 10 in high, 23 in wide, 37 balloons',37,'[{"name": "Sand", "swatch": "#e3d3b8", "ink": "#211c2b", "count": 21}, {"name": "White", "swatch": "#f6f4f0", "ink": "#211c2b", "count": 16}]',8742,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-57 -116.3 84 124.3" role="img" aria-labelledby="p1-title p1-desc">
<title id="p1-title">Column left of the door</title>
<desc id="p1-desc">Column with a topper, 8 ft 10 in high, 23 in wide. 37 balloons: 21 ⁨Sand⁩ (20 11-inch, 1 36-inch), 16 ⁨White⁩ (11-inch). 9 whole layers make 6 ft 1 in; 6 ft was asked for. In 9 whole layers the colours come to 56, 44 percent. With its topper it stands 8 ft 10 in tall.</desc>
<defs>
<radialGradient id="p1-c0-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#efede8"/><stop offset="0.07" stop-color="#e4e1de"/><stop offset="0.17" stop-color="#c9c5c4"/><stop offset="0.48" stop-color="#b8b3b4"/><stop offset="0.8" stop-color="#928b90"/><stop offset="0.96" stop-color="#726a71"/><stop offset="1" stop-color="#7e767c"/></radialGradient>
<radialGradient id="p1-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#fdfbf5"/><stop offset="0.07" stop-color="#fcfaf4"/><stop offset="0.17" stop-color="#f8f6f2"/><stop offset="0.48" stop-color="#f6f4f0"/><stop offset="0.8" stop-color="#c0bbbc"/><stop offset="0.96" stop-color="#928b90"/><stop offset="1" stop-color="#a39da0"/></radialGradient>
<radialGradient id="p1-c1-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#ece8e0"/><stop offset="0.07" stop-color="#dfd8cf"/><stop offset="0.17" stop-color="#beb3a6"/><stop offset="0.48" stop-color="#aa9c8d"/><stop offset="0.8" stop-color="#887a73"/><stop offset="0.96" stop-color="#6b5e5d"/><stop offset="1" stop-color="#756865"/></radialGradient>
<radialGradient id="p1-c1-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f4efe5"/><stop offset="0.07" stop-color="#ece5d9"/><stop offset="0.17" stop-color="#d8ccba"/><stop offset="0.48" stop-color="#ccbda7"/><stop offset="0.8" stop-color="#a19386"/><stop offset="0.96" stop-color="#7c6f6a"/><stop offset="1" stop-color="#8a7c74"/></radialGradient>
<radialGradient id="p1-c1-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f9f4e9"/><stop offset="0.07" stop-color="#f4eddf"/><stop offset="0.17" stop-color="#eaddc7"/><stop offset="0.48" stop-color="#e3d3b8"/><stop offset="0.8" stop-color="#b2a393"/><stop offset="0.96" stop-color="#887a73"/><stop offset="1" stop-color="#97897e"/></radialGradient>
</defs>
<rect x="-57.0" y="-116.3" width="84.0" height="124.3" fill="#f6f1e8"/>
<rect x="-57.0" y="0.0" width="84.0" height="8.0" fill="#e9e0d1"/>
<path fill="#d8ccba" fill-opacity=".75" transform="translate(-39.0 -67.0)" d="M0 0c3.2 0 5 2.4 5 5.2s-1.7 5.6-3.2 6.4v2c4.4.8 7.4 2.2 8 6l1.8 19.6c.2 2.6-2.6 3-3.2.6l-2.9-14.4L6 41l-1 25c-.1 1.4-4.2 1.4-4.3 0L0 43l-.7 23c-.1 1.4-4.2 1.4-4.3 0l-1-25 .5-15.8-2.9 14.4c-.6 2.4-3.4 2-3.2-.6L-9.8 19.6c.6-3.8 3.6-5.2 8-6v-2C-3.3 10.8-5 8-5 5.2S-3.2 0 0 0z"/>
<circle cx="0" cy="-68.7" r="4.75" fill="url(#p1-c1-0)"/>
<circle cx="0" cy="-52.7" r="4.75" fill="url(#p1-c1-0)"/>
<circle cx="0" cy="-36.7" r="4.75" fill="url(#p1-c1-0)"/>
<circle cx="0" cy="-20.7" r="4.75" fill="url(#p1-c1-0)"/>
<circle cx="0" cy="-4.8" r="4.75" fill="url(#p1-c1-0)"/>
<circle cx="-4.8" cy="-60.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="-4.8" cy="-44.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="-4.8" cy="-28.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="-4.8" cy="-12.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="4.8" cy="-60.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="4.8" cy="-44.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="4.8" cy="-28.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="4.8" cy="-12.7" r="4.75" fill="url(#p1-c0-0)"/>
<circle cx="-6.7" cy="-68.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="-6.7" cy="-52.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="-6.7" cy="-36.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="-6.7" cy="-20.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="-6.7" cy="-4.8" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="0" cy="-89.3" r="17" fill="url(#p1-c1-1)"/>
<circle cx="6.7" cy="-68.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="6.7" cy="-52.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="6.7" cy="-36.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="6.7" cy="-20.7" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="6.7" cy="-4.8" r="4.75" fill="url(#p1-c1-1)"/>
<circle cx="-4.8" cy="-60.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="-4.8" cy="-44.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="-4.8" cy="-28.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="-4.8" cy="-12.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="4.8" cy="-60.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="4.8" cy="-44.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="4.8" cy="-28.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="4.8" cy="-12.7" r="4.75" fill="url(#p1-c0-2)"/>
<circle cx="0" cy="-68.7" r="4.75" fill="url(#p1-c1-2)"/>
<circle cx="0" cy="-52.7" r="4.75" fill="url(#p1-c1-2)"/>
<circle cx="0" cy="-36.7" r="4.75" fill="url(#p1-c1-2)"/>
<circle cx="0" cy="-20.7" r="4.75" fill="url(#p1-c1-2)"/>
<circle cx="0" cy="-4.8" r="4.75" fill="url(#p1-c1-2)"/>
<text x="-51.8" y="5.4" font-size="5.2" font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">8 ft 10 in high, 23 in wide</text>
</svg>',3);
INSERT INTO "bookings_quotepiece" VALUES(6,2,'Column right of the door','packed','{"form": "column", "colours": [["4", 50], ["2", 50]], "size": 11, "diameter_mm": null, "length_mm": null, "span_mm": null, "rise_mm": null, "height_mm": "1828.8", "per_layer": 4, "pattern": "stripes", "colours_by": "percent", "shape": "swag", "compression_percent": 0, "topper": {"size": 36, "colour": "4", "form": "round", "foil": false}, "base": "weighted", "helium": false, "outdoors": false, "seed": 1, "doubled": [], "extras": []}','{}','Column with a topper, 8 ft 10 in high, 23 in wide, 37 balloons',37,'[{"name": "Sand", "swatch": "#e3d3b8", "ink": "#211c2b", "count": 21}, {"name": "White", "swatch": "#f6f4f0", "ink": "#211c2b", "count": 16}]',8741,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-57 -116.3 84 124.3" role="img" aria-labelledby="p2-title p2-desc">
<title id="p2-title">Column right of the door</title>
<desc id="p2-desc">Column with a topper, 8 ft 10 in high, 23 in wide. 37 balloons: 21 ⁨Sand⁩ (20 11-inch, 1 36-inch), 16 ⁨White⁩ (11-inch). 9 whole layers make 6 ft 1 in; 6 ft was asked for. In 9 whole layers the colours come to 56, 44 percent. With its topper it stands 8 ft 10 in tall.</desc>
<defs>
<radialGradient id="p2-c0-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#efede8"/><stop offset="0.07" stop-color="#e4e1de"/><stop offset="0.17" stop-color="#c9c5c4"/><stop offset="0.48" stop-color="#b8b3b4"/><stop offset="0.8" stop-color="#928b90"/><stop offset="0.96" stop-color="#726a71"/><stop offset="1" stop-color="#7e767c"/></radialGradient>
<radialGradient id="p2-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#fdfbf5"/><stop offset="0.07" stop-color="#fcfaf4"/><stop offset="0.17" stop-color="#f8f6f2"/><stop offset="0.48" stop-color="#f6f4f0"/><stop offset="0.8" stop-color="#c0bbbc"/><stop offset="0.96" stop-color="#928b90"/><stop offset="1" stop-color="#a39da0"/></radialGradient>
<radialGradient id="p2-c1-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#ece8e0"/><stop offset="0.07" stop-color="#dfd8cf"/><stop offset="0.17" stop-color="#beb3a6"/><stop offset="0.48" stop-color="#aa9c8d"/><stop offset="0.8" stop-color="#887a73"/><stop offset="0.96" stop-color="#6b5e5d"/><stop offset="1" stop-color="#756865"/></radialGradient>
<radialGradient id="p2-c1-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f4efe5"/><stop offset="0.07" stop-color="#ece5d9"/><stop offset="0.17" stop-color="#d8ccba"/><stop offset="0.48" stop-color="#ccbda7"/><stop offset="0.8" stop-color="#a19386"/><stop offset="0.96" stop-color="#7c6f6a"/><stop offset="1" stop-color="#8a7c74"/></radialGradient>
<radialGradient id="p2-c1-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f9f4e9"/><stop offset="0.07" stop-color="#f4eddf"/><stop offset="0.17" stop-color="#eaddc7"/><stop offset="0.48" stop-color="#e3d3b8"/><stop offset="0.8" stop-color="#b2a393"/><stop offset="0.96" stop-color="#887a73"/><stop offset="1" stop-color="#97897e"/></radialGradient>
</defs>
<rect x="-57.0" y="-116.3" width="84.0" height="124.3" fill="#f6f1e8"/>
<rect x="-57.0" y="0.0" width="84.0" height="8.0" fill="#e9e0d1"/>
<path fill="#d8ccba" fill-opacity=".75" transform="translate(-39.0 -67.0)" d="M0 0c3.2 0 5 2.4 5 5.2s-1.7 5.6-3.2 6.4v2c4.4.8 7.4 2.2 8 6l1.8 19.6c.2 2.6-2.6 3-3.2.6l-2.9-14.4L6 41l-1 25c-.1 1.4-4.2 1.4-4.3 0L0 43l-.7 23c-.1 1.4-4.2 1.4-4.3 0l-1-25 .5-15.8-2.9 14.4c-.6 2.4-3.4 2-3.2-.6L-9.8 19.6c.6-3.8 3.6-5.2 8-6v-2C-3.3 10.8-5 8-5 5.2S-3.2 0 0 0z"/>
<circle cx="0" cy="-68.7" r="4.75" fill="url(#p2-c1-0)"/>
<circle cx="0" cy="-52.7" r="4.75" fill="url(#p2-c1-0)"/>
<circle cx="0" cy="-36.7" r="4.75" fill="url(#p2-c1-0)"/>
<circle cx="0" cy="-20.7" r="4.75" fill="url(#p2-c1-0)"/>
<circle cx="0" cy="-4.8" r="4.75" fill="url(#p2-c1-0)"/>
<circle cx="-4.8" cy="-60.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="-4.8" cy="-44.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="-4.8" cy="-28.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="-4.8" cy="-12.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="4.8" cy="-60.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="4.8" cy="-44.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="4.8" cy="-28.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="4.8" cy="-12.7" r="4.75" fill="url(#p2-c0-0)"/>
<circle cx="-6.7" cy="-68.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="-6.7" cy="-52.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="-6.7" cy="-36.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="-6.7" cy="-20.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="-6.7" cy="-4.8" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="0" cy="-89.3" r="17" fill="url(#p2-c1-1)"/>
<circle cx="6.7" cy="-68.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="6.7" cy="-52.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="6.7" cy="-36.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="6.7" cy="-20.7" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="6.7" cy="-4.8" r="4.75" fill="url(#p2-c1-1)"/>
<circle cx="-4.8" cy="-60.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="-4.8" cy="-44.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="-4.8" cy="-28.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="-4.8" cy="-12.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="4.8" cy="-60.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="4.8" cy="-44.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="4.8" cy="-28.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="4.8" cy="-12.7" r="4.75" fill="url(#p2-c0-2)"/>
<circle cx="0" cy="-68.7" r="4.75" fill="url(#p2-c1-2)"/>
<circle cx="0" cy="-52.7" r="4.75" fill="url(#p2-c1-2)"/>
<circle cx="0" cy="-36.7" r="4.75" fill="url(#p2-c1-2)"/>
<circle cx="0" cy="-20.7" r="4.75" fill="url(#p2-c1-2)"/>
<circle cx="0" cy="-4.8" r="4.75" fill="url(#p2-c1-2)"/>
<text x="-51.8" y="5.4" font-size="5.2" font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">8 ft 10 in high, 23 in wide</text>
</svg>',3);
INSERT INTO "bookings_quotepiece" VALUES(7,0,'Garland over the table','garland','{"length_mm": "4876.8", "width_mm": "508.0", "mix": [[5, 30], [11, 70]], "colours": [["10", 40], ["12", 30], ["11", 30]], "outdoors": false, "shape": "swag", "seed": 5}','{}','16 ft × 20 in, 142 balloons',142,'[{"name": "Sky", "swatch": "#8fc1e3", "ink": "#211c2b", "count": 57}, {"name": "Butter", "swatch": "#f5e08e", "ink": "#211c2b", "count": 43}, {"name": "Coral", "swatch": "#f0775e", "ink": "#211c2b", "count": 42}]',23000,'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-13.7 -16.7 199.7 134.7" role="img" aria-labelledby="p0-title p0-desc">
<title id="p0-title">Garland over the table</title>
<desc id="p0-desc">Garland, 16 ft × 20 in. 142 balloons: 57 ⁨Sky⁩ (17 5-inch, 40 11-inch), 43 ⁨Butter⁩ (13 5-inch, 30 11-inch), 42 ⁨Coral⁩ (12 5-inch, 30 11-inch).</desc>
<defs>
<radialGradient id="p0-c0-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e0e5e6"/><stop offset="0.07" stop-color="#c9d3da"/><stop offset="0.17" stop-color="#92a9bd"/><stop offset="0.48" stop-color="#708fab"/><stop offset="0.8" stop-color="#5d7189"/><stop offset="0.96" stop-color="#4c576c"/><stop offset="1" stop-color="#526077"/></radialGradient>
<radialGradient id="p0-c0-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e4ebee"/><stop offset="0.07" stop-color="#d0dfe7"/><stop offset="0.17" stop-color="#a0c0d7"/><stop offset="0.48" stop-color="#82adcd"/><stop offset="0.8" stop-color="#6a87a2"/><stop offset="0.96" stop-color="#56667e"/><stop offset="1" stop-color="#5d728b"/></radialGradient>
<radialGradient id="p0-c0-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#e6f0f3"/><stop offset="0.07" stop-color="#d4e6ef"/><stop offset="0.17" stop-color="#aacfe8"/><stop offset="0.48" stop-color="#8fc1e3"/><stop offset="0.8" stop-color="#7496b2"/><stop offset="0.96" stop-color="#5d7189"/><stop offset="1" stop-color="#657e98"/></radialGradient>
<radialGradient id="p0-c1-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#eed9d2"/><stop offset="0.07" stop-color="#e2bfb7"/><stop offset="0.17" stop-color="#c58277"/><stop offset="0.48" stop-color="#b35b4e"/><stop offset="0.8" stop-color="#8e4a44"/><stop offset="0.96" stop-color="#6f3c3c"/><stop offset="1" stop-color="#7b413f"/></radialGradient>
<radialGradient id="p0-c1-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f6ddd4"/><stop offset="0.07" stop-color="#f0c6bb"/><stop offset="0.17" stop-color="#e18f7e"/><stop offset="0.48" stop-color="#d86c58"/><stop offset="0.8" stop-color="#aa574c"/><stop offset="0.96" stop-color="#834541"/><stop offset="1" stop-color="#914b45"/></radialGradient>
<radialGradient id="p0-c1-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#fce0d5"/><stop offset="0.07" stop-color="#f9cabd"/><stop offset="0.17" stop-color="#f49783"/><stop offset="0.48" stop-color="#f0775e"/><stop offset="0.8" stop-color="#bb5f50"/><stop offset="0.96" stop-color="#8f4a44"/><stop offset="1" stop-color="#9f5248"/></radialGradient>
<radialGradient id="p0-c2-0" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#efead9"/><stop offset="0.07" stop-color="#e4dcc3"/><stop offset="0.17" stop-color="#c8ba90"/><stop offset="0.48" stop-color="#b7a56f"/><stop offset="0.8" stop-color="#91815d"/><stop offset="0.96" stop-color="#71624d"/><stop offset="1" stop-color="#7d6d53"/></radialGradient>
<radialGradient id="p0-c2-1" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#f7f1dd"/><stop offset="0.07" stop-color="#f2e9cb"/><stop offset="0.17" stop-color="#e4d59e"/><stop offset="0.48" stop-color="#dcc882"/><stop offset="0.8" stop-color="#ad9b6b"/><stop offset="0.96" stop-color="#857457"/><stop offset="1" stop-color="#93825e"/></radialGradient>
<radialGradient id="p0-c2-2" cx=".5" cy=".5" r=".52" fx="0.33" fy="0.29"><stop offset="0" stop-color="#fdf7e0"/><stop offset="0.07" stop-color="#fbf2cf"/><stop offset="0.17" stop-color="#f7e7a7"/><stop offset="0.48" stop-color="#f5e08e"/><stop offset="0.8" stop-color="#bfad73"/><stop offset="0.96" stop-color="#92815d"/><stop offset="1" stop-color="#a29165"/></radialGradient>
</defs>
<rect x="-13.7" y="-16.7" width="199.7" height="134.7" fill="#f6f1e8"/>
<rect x="-13.7" y="108.0" width="199.7" height="10.0" fill="#e9e0d1"/>
<path fill="#d8ccba" fill-opacity=".75" transform="translate(107.7 41.0)" d="M0 0c3.2 0 5 2.4 5 5.2s-1.7 5.6-3.2 6.4v2c4.4.8 7.4 2.2 8 6l1.8 19.6c.2 2.6-2.6 3-3.2.6l-2.9-14.4L6 41l-1 25c-.1 1.4-4.2 1.4-4.3 0L0 43l-.7 23c-.1 1.4-4.2 1.4-4.3 0l-1-25 .5-15.8-2.9 14.4c-.6 2.4-3.4 2-3.2-.6L-9.8 19.6c.6-3.8 3.6-5.2 8-6v-2C-3.3 10.8-5 8-5 5.2S-3.2 0 0 0z"/>
<rect x="-13.7" y="-3.0" width="199.7" height="3.0" fill="#7f6c58"/>
<rect x="-13.7" y="-0.8" width="199.7" height="0.8" fill="#5f4f40"/>
<path d="M8.8 8.1L18.9 14.1L29.8 18.4L41.3 20.5L50.1 20.5L58.8 19.3L69.9 15.6L80.3 10.2L89.7 3.2L99.2 10.2L109.5 15.6L120.6 19.3L132.3 20.7L141.0 20.2L152.4 17.5L160.5 14.1L170.6 8.1" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="23.2" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M8.8 8.1L18.9 14.1L29.8 18.4L41.3 20.5L50.1 20.5L58.8 19.3L69.9 15.6L80.3 10.2L89.7 3.2L99.2 10.2L109.5 15.6L120.6 19.3L132.3 20.7L141.0 20.2L152.4 17.5L160.5 14.1L170.6 8.1" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="20.2" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M8.8 8.1L18.9 14.1L29.8 18.4L41.3 20.5L50.1 20.5L58.8 19.3L69.9 15.6L80.3 10.2L89.7 3.2L99.2 10.2L109.5 15.6L120.6 19.3L132.3 20.7L141.0 20.2L152.4 17.5L160.5 14.1L170.6 8.1" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="17.1" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M8.8 8.1L18.9 14.1L29.8 18.4L41.3 20.5L50.1 20.5L58.8 19.3L69.9 15.6L80.3 10.2L89.7 3.2L99.2 10.2L109.5 15.6L120.6 19.3L132.3 20.7L141.0 20.2L152.4 17.5L160.5 14.1L170.6 8.1" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="14.1" stroke-linecap="round" stroke-linejoin="round"/>
<path d="M8.8 8.1L18.9 14.1L29.8 18.4L41.3 20.5L50.1 20.5L58.8 19.3L69.9 15.6L80.3 10.2L89.7 3.2L99.2 10.2L109.5 15.6L120.6 19.3L132.3 20.7L141.0 20.2L152.4 17.5L160.5 14.1L170.6 8.1" fill="none" stroke="#3a2b20" stroke-opacity=".025" stroke-width="11.1" stroke-linecap="round" stroke-linejoin="round"/>
<circle cx="86.1" cy="0.4" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="75.4" cy="9.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="98.8" cy="7.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="19.3" cy="12.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="141.9" cy="18" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="33.5" cy="17.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="112.3" cy="14.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="121.2" cy="14" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="54.7" cy="12" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="48.5" cy="18.1" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="67.3" cy="7.1" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="146.6" cy="10.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="133.6" cy="15" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="102.9" cy="15.7" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="163.2" cy="13.4" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="4.5" cy="4" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="41.4" cy="13.5" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="169.6" cy="3.8" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="13.4" cy="5.2" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="24.8" cy="19" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="90" cy="7.8" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="154.9" cy="12.2" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="70.9" cy="15.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="94.5" cy="0.8" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="56.9" cy="20.7" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="62.7" cy="14.1" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="135.7" cy="23.5" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="150.3" cy="19.2" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="27.8" cy="11.5" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="11.2" cy="12.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="160.9" cy="5.5" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="127.3" cy="20" r="4.75" fill="url(#p0-c1-0)"/>
<circle cx="106.4" cy="8.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="81.6" cy="5.6" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="40.8" cy="21.6" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="89.2" cy="-5.9" r="4.75" fill="url(#p0-c0-0)"/>
<circle cx="80.2" cy="-2.9" r="4.75" fill="url(#p0-c2-0)"/>
<circle cx="118" cy="20.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="171.3" cy="11.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="114.8" cy="8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="109" cy="21" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="85.1" cy="11.4" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="127.4" cy="11.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="73.6" cy="3.2" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="31.6" cy="23.5" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="96.6" cy="12.4" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="139.6" cy="12.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="152.1" cy="5.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="78.5" cy="12.9" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="20.8" cy="8.1" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="18.1" cy="17" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="35.6" cy="9.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="48" cy="11.3" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="65.1" cy="20.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="60.1" cy="7.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="158.2" cy="18.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="16.1" cy="1.9" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="130.6" cy="24.8" r="2.375" fill="url(#p0-c0-1)"/>
<circle cx="101.2" cy="4.3" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="49.4" cy="22" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="142.8" cy="21.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="166.1" cy="-0.8" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="9.3" cy="0.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="87.1" cy="1.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="4.5" cy="9.4" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="68.4" cy="9.3" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="55.3" cy="14.5" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="147.8" cy="13.1" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="33.7" cy="16.4" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="43.8" cy="25.4" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="123.8" cy="24.8" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="134.3" cy="19.2" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="112.5" cy="15" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="137.5" cy="25.1" r="2.375" fill="url(#p0-c1-1)"/>
<circle cx="120.4" cy="12.6" r="4.75" fill="url(#p0-c2-1)"/>
<circle cx="1.1" cy="1.8" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="163.9" cy="11.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="104" cy="15.4" r="4.75" fill="url(#p0-c1-1)"/>
<circle cx="92.7" cy="6.3" r="4.75" fill="url(#p0-c0-1)"/>
<circle cx="42" cy="15.1" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="94.8" cy="-1.9" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="13" cy="7.4" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="112.7" cy="22" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="25.6" cy="18.8" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="170.7" cy="5.3" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="143.2" cy="8.8" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="18.3" cy="3.6" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="71.7" cy="16.3" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="159.6" cy="4.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="11" cy="15.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="27.6" cy="10.4" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="57.6" cy="21.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="70" cy="3.7" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="84" cy="8.5" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="155.5" cy="11.8" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="133.3" cy="11.7" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="108.3" cy="8.1" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="85.8" cy="-5.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="79.2" cy="1.2" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="97.4" cy="15.6" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="130" cy="23.8" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="150.3" cy="19.3" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="115" cy="9.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="108.7" cy="19.9" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="38.5" cy="22.5" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="62.8" cy="13.9" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="126.7" cy="17.6" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="93.6" cy="12.7" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="126.4" cy="10.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="51.9" cy="10.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="31.5" cy="22" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="149.9" cy="8.1" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="6.9" cy="4.8" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="21.8" cy="6.5" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="45.3" cy="22.3" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="78.2" cy="14.2" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="75" cy="8.2" r="4.75" fill="url(#p0-c0-2)"/>
<circle cx="36.4" cy="11.9" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="139.1" cy="22.2" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="160.7" cy="16" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="66" cy="19.5" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="98.8" cy="2.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="118.1" cy="19.5" r="4.75" fill="url(#p0-c1-2)"/>
<circle cx="19.3" cy="12.8" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="141.4" cy="15.7" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="99.6" cy="9.4" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="49.5" cy="16.9" r="4.75" fill="url(#p0-c2-2)"/>
<circle cx="165.6" cy="2.2" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="146.5" cy="10.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="7.5" cy="9.1" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="88.4" cy="3.9" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="89.6" cy="-0.4" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="68.4" cy="11.3" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="165.1" cy="6.9" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="30" cy="15.6" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="85.1" cy="1.1" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="116" cy="12.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="56.6" cy="15.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="37" cy="16.1" r="2.375" fill="url(#p0-c1-2)"/>
<circle cx="33.4" cy="18.8" r="2.375" fill="url(#p0-c0-2)"/>
<circle cx="160.8" cy="9.7" r="2.375" fill="url(#p0-c2-2)"/>
<circle cx="92.9" cy="2.6" r="2.375" fill="url(#p0-c2-2)"/>
<text x="-7" y="114.7" font-size="6.7" font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">16 ft × 20 in</text>
</svg>',4);
CREATE TABLE "bookings_refund" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "currency" varchar(3) NOT NULL, "from_credit_minor" bigint unsigned NOT NULL CHECK ("from_credit_minor" >= 0), "from_booking_minor" bigint unsigned NOT NULL CHECK ("from_booking_minor" >= 0), "method" varchar(8) NOT NULL, "refunded_on" date NOT NULL, "note" varchar(200) NOT NULL, "at" datetime NOT NULL, "booking_id" bigint NULL REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "client_id" bigint NOT NULL REFERENCES "bookings_client" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_refund_is_of_something" CHECK (("from_credit_minor" > 0 OR "from_booking_minor" > 0)), CONSTRAINT "a_bookings_refund_names_it" CHECK (("from_booking_minor" = 0 OR "booking_id" IS NOT NULL)), CONSTRAINT "a_refund_is_made_in_a_known_way" CHECK ("method" IN ('transfer', 'card', 'cash', 'other')));
CREATE TABLE "bookings_sketch" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "width" integer unsigned NOT NULL CHECK ("width" >= 0), "height" integer unsigned NOT NULL CHECK ("height" >= 0), "marks" text NOT NULL CHECK ((JSON_VALID("marks") OR "marks" IS NULL)), "known" text NOT NULL CHECK ((JSON_VALID("known") OR "known" IS NULL)), "path" text NOT NULL CHECK ((JSON_VALID("path") OR "path" IS NULL)), "photo_id" bigint NULL REFERENCES "bookings_photo" ("id") DEFERRABLE INITIALLY DEFERRED, "piece_id" bigint NOT NULL UNIQUE REFERENCES "bookings_piece" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "bookings_wrapup" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "outdoors" bool NOT NULL, "booking_id" bigint NOT NULL UNIQUE REFERENCES "bookings_booking" ("id") DEFERRABLE INITIALLY DEFERRED, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "bookings_wrapup" VALUES(1,'2026-11-01 12:00:00',0,5,2);
CREATE TABLE "bookings_wrapupline" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "needed" integer unsigned NOT NULL CHECK ("needed" >= 0), "taken" integer unsigned NOT NULL CHECK ("taken" >= 0), "used" integer unsigned NOT NULL CHECK ("used" >= 0), "popped" integer unsigned NOT NULL CHECK ("popped" >= 0), "home" integer unsigned NOT NULL CHECK ("home" >= 0), "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "wrap_up_id" bigint NOT NULL REFERENCES "bookings_wrapup" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_wrap_up_lists_an_item_once" UNIQUE ("wrap_up_id", "item_id"), CONSTRAINT "no_more_is_accounted_for_than_was_taken" CHECK ("taken" >= (("used" + "popped") + "home")));
INSERT INTO "bookings_wrapupline" VALUES(1,17,19,17,1,1,8,1);
INSERT INTO "bookings_wrapupline" VALUES(2,40,43,40,2,1,6,1);
INSERT INTO "bookings_wrapupline" VALUES(3,12,14,12,1,1,11,1);
INSERT INTO "bookings_wrapupline" VALUES(4,30,33,30,2,1,9,1);
INSERT INTO "bookings_wrapupline" VALUES(5,13,15,13,1,1,14,1);
INSERT INTO "bookings_wrapupline" VALUES(6,30,33,30,2,1,12,1);
INSERT INTO "bookings_wrapupline" VALUES(7,9,10,9,0,1,47,1);
INSERT INTO "bookings_wrapupline" VALUES(8,22,22,22,0,0,48,1);
INSERT INTO "bookings_wrapupline" VALUES(9,22,24,22,0,2,50,1);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
INSERT INTO "django_content_type" VALUES(1,'studio','submission');
INSERT INTO "django_content_type" VALUES(2,'studio','studio');
INSERT INTO "django_content_type" VALUES(3,'studio','user');
INSERT INTO "django_content_type" VALUES(4,'studio','signinattempt');
INSERT INTO "django_content_type" VALUES(5,'stock','movement');
INSERT INTO "django_content_type" VALUES(6,'stock','offer');
INSERT INTO "django_content_type" VALUES(7,'stock','order');
INSERT INTO "django_content_type" VALUES(8,'stock','orderline');
INSERT INTO "django_content_type" VALUES(9,'stock','reservation');
INSERT INTO "django_content_type" VALUES(10,'stock','supplier');
INSERT INTO "django_content_type" VALUES(11,'stock','colour');
INSERT INTO "django_content_type" VALUES(12,'stock','item');
INSERT INTO "django_content_type" VALUES(13,'stock','countline');
INSERT INTO "django_content_type" VALUES(14,'stock','countsheet');
INSERT INTO "django_content_type" VALUES(15,'stock','lot');
INSERT INTO "django_content_type" VALUES(16,'stock','shelfrules');
INSERT INTO "django_content_type" VALUES(17,'stock','spreadsheet');
INSERT INTO "django_content_type" VALUES(18,'stock','doublerecipe');
INSERT INTO "django_content_type" VALUES(19,'stock','kit');
INSERT INTO "django_content_type" VALUES(20,'stock','kitpromise');
INSERT INTO "django_content_type" VALUES(21,'stock','kitmovement');
INSERT INTO "django_content_type" VALUES(22,'estimating','rates');
INSERT INTO "django_content_type" VALUES(23,'estimating','favourite');
INSERT INTO "django_content_type" VALUES(24,'estimating','inflateddiameter');
INSERT INTO "django_content_type" VALUES(25,'bookings','acceptance');
INSERT INTO "django_content_type" VALUES(26,'bookings','amountdue');
INSERT INTO "django_content_type" VALUES(27,'bookings','booking');
INSERT INTO "django_content_type" VALUES(28,'bookings','client');
INSERT INTO "django_content_type" VALUES(29,'bookings','historyentry');
INSERT INTO "django_content_type" VALUES(30,'bookings','piece');
INSERT INTO "django_content_type" VALUES(31,'bookings','quote');
INSERT INTO "django_content_type" VALUES(32,'bookings','quotematerial');
INSERT INTO "django_content_type" VALUES(33,'bookings','quoteopening');
INSERT INTO "django_content_type" VALUES(34,'bookings','quotepiece');
INSERT INTO "django_content_type" VALUES(35,'bookings','photo');
INSERT INTO "django_content_type" VALUES(36,'bookings','sketch');
INSERT INTO "django_content_type" VALUES(37,'bookings','materialswap');
INSERT INTO "django_content_type" VALUES(38,'bookings','wrapup');
INSERT INTO "django_content_type" VALUES(39,'bookings','pulltick');
INSERT INTO "django_content_type" VALUES(40,'bookings','wrapupline');
INSERT INTO "django_content_type" VALUES(41,'bookings','numberseries');
INSERT INTO "django_content_type" VALUES(42,'bookings','creditmove');
INSERT INTO "django_content_type" VALUES(43,'bookings','invoice');
INSERT INTO "django_content_type" VALUES(44,'bookings','creditnote');
INSERT INTO "django_content_type" VALUES(45,'bookings','invoiceline');
INSERT INTO "django_content_type" VALUES(46,'bookings','moneyterms');
INSERT INTO "django_content_type" VALUES(47,'bookings','payment');
INSERT INTO "django_content_type" VALUES(48,'bookings','entry');
INSERT INTO "django_content_type" VALUES(49,'bookings','posting');
INSERT INTO "django_content_type" VALUES(50,'bookings','refund');
INSERT INTO "django_content_type" VALUES(51,'auth','permission');
INSERT INTO "django_content_type" VALUES(52,'auth','group');
INSERT INTO "django_content_type" VALUES(53,'contenttypes','contenttype');
INSERT INTO "django_content_type" VALUES(54,'sessions','session');
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-25 16:14:43.812977');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-25 16:14:43.819644');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-25 16:14:43.859104');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-25 16:14:43.869042');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-25 16:14:43.878883');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-25 16:14:43.897482');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-25 16:14:43.904418');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-25 16:14:43.913156');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-25 16:14:43.919643');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-25 16:14:43.928225');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-25 16:14:43.942365');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-25 16:14:43.947688');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-25 16:14:43.965414');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-25 16:14:43.975662');
INSERT INTO "django_migrations" VALUES(15,'studio','0001_initial','2026-11-25 16:14:44.001024');
INSERT INTO "django_migrations" VALUES(16,'stock','0001_initial','2026-11-25 16:14:44.068672');
INSERT INTO "django_migrations" VALUES(17,'stock','0002_initial','2026-11-25 16:14:44.999661');
INSERT INTO "django_migrations" VALUES(18,'stock','0003_movements_are_written_once','2026-11-25 16:14:45.047791');
INSERT INTO "django_migrations" VALUES(19,'stock','0004_a_tentative_hold_lapses','2026-11-25 16:14:45.066010');
INSERT INTO "django_migrations" VALUES(20,'stock','0005_finishes_shapes_and_more_sorts','2026-11-25 16:14:45.130323');
INSERT INTO "django_migrations" VALUES(21,'stock','0006_what_suppliers_ask_for_delivery','2026-11-25 16:14:45.184767');
INSERT INTO "django_migrations" VALUES(22,'stock','0007_lots_counts_and_spreadsheets','2026-11-25 16:14:45.935956');
INSERT INTO "django_migrations" VALUES(23,'stock','0008_their_names_and_doubles','2026-11-25 16:14:46.121133');
INSERT INTO "django_migrations" VALUES(24,'stock','0009_sums_of_promises_from_the_index','2026-11-25 16:14:46.179553');
INSERT INTO "django_migrations" VALUES(25,'stock','0010_kit','2026-11-25 16:14:47.095800');
INSERT INTO "django_migrations" VALUES(26,'bookings','0001_initial','2026-11-25 16:14:47.159723');
INSERT INTO "django_migrations" VALUES(27,'bookings','0002_initial','2026-11-25 16:14:49.139448');
INSERT INTO "django_migrations" VALUES(28,'bookings','0003_issued_quotes_are_frozen','2026-11-25 16:14:50.188398');
INSERT INTO "django_migrations" VALUES(29,'bookings','0004_the_place','2026-11-25 16:14:50.864772');
INSERT INTO "django_migrations" VALUES(30,'bookings','0005_photos_and_sketches','2026-11-25 16:14:51.091075');
INSERT INTO "django_migrations" VALUES(31,'bookings','0006_swapped_materials','2026-11-25 16:14:51.185064');
INSERT INTO "django_migrations" VALUES(32,'bookings','0007_pull_lists_and_wrap_ups','2026-11-25 16:14:51.501411');
INSERT INTO "django_migrations" VALUES(33,'bookings','0008_invoices_payments_and_books','2026-11-25 16:14:54.155076');
INSERT INTO "django_migrations" VALUES(34,'bookings','0009_money_is_written_once','2026-11-25 16:14:55.259701');
INSERT INTO "django_migrations" VALUES(35,'bookings','0010_two_clients_may_become_one','2026-11-25 16:14:56.201597');
INSERT INTO "django_migrations" VALUES(36,'bookings','0011_a_swap_may_be_of_two_in_one','2026-11-25 16:14:56.425663');
INSERT INTO "django_migrations" VALUES(37,'estimating','0001_initial','2026-11-25 16:14:56.445596');
INSERT INTO "django_migrations" VALUES(38,'estimating','0002_ribbon_letters_and_helium','2026-11-25 16:14:56.615321');
INSERT INTO "django_migrations" VALUES(39,'estimating','0003_van_ladders_and_weather','2026-11-25 16:14:57.000122');
INSERT INTO "django_migrations" VALUES(40,'estimating','0004_favourites','2026-11-25 16:14:57.055485');
INSERT INTO "django_migrations" VALUES(41,'estimating','0005_how_tax_is_rounded','2026-11-25 16:14:57.227219');
INSERT INTO "django_migrations" VALUES(42,'estimating','0006_own_inflated_diameters','2026-11-25 16:14:57.269910');
INSERT INTO "django_migrations" VALUES(43,'sessions','0001_initial','2026-11-25 16:14:57.340781');
INSERT INTO "django_migrations" VALUES(44,'studio','0002_sign_in_attempts','2026-11-25 16:14:57.370994');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
CREATE TABLE "estimating_favourite" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(80) NOT NULL, "kind" varchar(20) NOT NULL, "spec" text NOT NULL CHECK ((JSON_VALID("spec") OR "spec" IS NULL)), "position" integer unsigned NOT NULL CHECK ("position" >= 0), CONSTRAINT "a_favourite_has_a_name" CHECK (NOT ("name" = '')));
CREATE TABLE "estimating_inflateddiameter" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "size" smallint unsigned NOT NULL CHECK ("size" >= 0), "gas" varchar(6) NOT NULL, "mm" decimal NOT NULL, "typed" varchar(60) NOT NULL, CONSTRAINT "a_size_is_blown_to_one_diameter" UNIQUE ("size", "gas"), CONSTRAINT "a_balloon_is_blown_with_air_or_helium" CHECK ("gas" IN ('air', 'helium')), CONSTRAINT "no_size_is_blown_limp_or_beyond_its_bag" CHECK ((("mm" >= '50.8000' AND "mm" <= '76.2000' AND "size" = 3) OR ("mm" >= '76.2000' AND "mm" <= '127.0000' AND "size" = 5) OR ("mm" >= '76.2000' AND "mm" <= '152.4000' AND "size" = 6) OR ("mm" >= '127.0000' AND "mm" <= '228.6000' AND "size" = 9) OR ("mm" >= '127.0000' AND "mm" <= '254.0000' AND "size" = 10) OR ("mm" >= '152.4000' AND "mm" <= '279.4000' AND "size" = 11) OR ("mm" >= '152.4000' AND "mm" <= '304.8000' AND "size" = 12) OR ("mm" >= '177.8000' AND "mm" <= '355.6000' AND "size" = 14) OR ("mm" >= '203.2000' AND "mm" <= '406.4000' AND "size" = 16) OR ("mm" >= '228.6000' AND "mm" <= '431.8000' AND "size" = 17) OR ("mm" >= '228.6000' AND "mm" <= '457.2000' AND "size" = 18) OR ("mm" >= '304.8000' AND "mm" <= '609.6000' AND "size" = 24) OR ("mm" >= '381.0000' AND "mm" <= '762.0000' AND "size" = 30) OR ("mm" >= '457.2000' AND "mm" <= '914.4000' AND "size" = 36))));
INSERT INTO "estimating_inflateddiameter" VALUES(1,24,'air',533.4,'21 in');
INSERT INTO "estimating_inflateddiameter" VALUES(2,11,'helium',266.7,'10½ in');
CREATE TABLE "estimating_rates" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "hourly_minor" bigint unsigned NOT NULL CHECK ("hourly_minor" >= 0), "crew_exponent" decimal NOT NULL, "per_distance_minor" bigint unsigned NOT NULL CHECK ("per_distance_minor" >= 0), "overhead_percent" decimal NOT NULL, "margin_percent" decimal NOT NULL, "minimum_minor" bigint unsigned NOT NULL CHECK ("minimum_minor" >= 0), "rounding_minor" bigint unsigned NOT NULL CHECK ("rounding_minor" >= 0), "tax_percent" decimal NOT NULL, "deposit_percent" decimal NOT NULL, "seconds_small" integer unsigned NOT NULL CHECK ("seconds_small" >= 0), "seconds_medium" integer unsigned NOT NULL CHECK ("seconds_medium" >= 0), "seconds_large" integer unsigned NOT NULL CHECK ("seconds_large" >= 0), "seconds_giant" integer unsigned NOT NULL CHECK ("seconds_giant" >= 0), "seconds_per_foot" integer unsigned NOT NULL CHECK ("seconds_per_foot" >= 0), "seconds_per_attachment" integer unsigned NOT NULL CHECK ("seconds_per_attachment" >= 0), "setup_minutes" integer unsigned NOT NULL CHECK ("setup_minutes" >= 0), "strike_minutes" integer unsigned NOT NULL CHECK ("strike_minutes" >= 0), "pop_indoors_percent" decimal NOT NULL, "pop_outdoors_percent" decimal NOT NULL, "confidence_percent" decimal NOT NULL, "usual_small_minor" bigint unsigned NOT NULL CHECK ("usual_small_minor" >= 0), "usual_medium_minor" bigint unsigned NOT NULL CHECK ("usual_medium_minor" >= 0), "usual_large_minor" bigint unsigned NOT NULL CHECK ("usual_large_minor" >= 0), "usual_giant_minor" bigint unsigned NOT NULL CHECK ("usual_giant_minor" >= 0), "usual_other_minor" bigint unsigned NOT NULL CHECK ("usual_other_minor" >= 0), "seconds_per_letter" integer unsigned NOT NULL CHECK ("seconds_per_letter" >= 0), "seconds_per_ribbon" integer unsigned NOT NULL CHECK ("seconds_per_ribbon" >= 0), "seconds_per_sealed" integer unsigned NOT NULL CHECK ("seconds_per_sealed" >= 0), "usual_decal_minor" bigint unsigned NOT NULL CHECK ("usual_decal_minor" >= 0), "usual_helium_minor" bigint unsigned NOT NULL CHECK ("usual_helium_minor" >= 0), "usual_ribbon_minor" bigint unsigned NOT NULL CHECK ("usual_ribbon_minor" >= 0), "usual_weight_minor" bigint unsigned NOT NULL CHECK ("usual_weight_minor" >= 0), "base_mm" decimal NOT NULL, "evidence_balloons" integer unsigned NOT NULL CHECK ("evidence_balloons" >= 0), "evidence_hours" integer unsigned NOT NULL CHECK ("evidence_hours" >= 0), "hook_grams" decimal NOT NULL, "ladders_mm" text NOT NULL CHECK ((JSON_VALID("ladders_mm") OR "ladders_mm" IS NULL)), "van_cubic_feet" decimal NOT NULL, "wind_limit_mph" decimal NOT NULL, "tax_each" varchar(5) NOT NULL, CONSTRAINT "there_is_one_set_of_rates" CHECK ("id" = 1), CONSTRAINT "a_margin_is_less_than_the_price" CHECK ("margin_percent" < '100'), CONSTRAINT "prices_are_rounded_to_something" CHECK ("rounding_minor" >= 1), CONSTRAINT "own_figures_are_worth_something" CHECK (("evidence_balloons" >= 1 AND "evidence_hours" >= 1)), CONSTRAINT "vans_hooks_bases_and_wind_limits_are_above_zero" CHECK (("base_mm" > '0' AND "hook_grams" > '0' AND "van_cubic_feet" > '0' AND "wind_limit_mph" > '0')));
INSERT INTO "estimating_rates" VALUES(1,3200,0.74,70,15,38,15000,500,8.25,50,12,12,30,120,180,180,30,30,3,8,95,10,18,70,450,12,60,30,15,600,450,3,80,609.6,400,12,453.6,'["1828.8", "2438.4"]',250,23.6,'total');
CREATE TABLE "stock_colour" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(40) NOT NULL, "swatch" varchar(7) NOT NULL, "finish" varchar(8) NOT NULL, "position" integer unsigned NOT NULL CHECK ("position" >= 0), "in_use" bool NOT NULL, "form" varchar(5) NOT NULL, CONSTRAINT "hearts_and_stars_are_foil" CHECK (("form" = 'round' OR "finish" = 'foil')));
INSERT INTO "stock_colour" VALUES(1,'Black','#1b1b1f','standard',0,1,'round');
INSERT INTO "stock_colour" VALUES(2,'White','#f6f4f0','standard',1,1,'round');
INSERT INTO "stock_colour" VALUES(3,'Ink','#22314f','standard',2,1,'round');
INSERT INTO "stock_colour" VALUES(4,'Sand','#e3d3b8','standard',3,1,'round');
INSERT INTO "stock_colour" VALUES(5,'Terracotta','#c4694a','standard',4,1,'round');
INSERT INTO "stock_colour" VALUES(6,'Sage','#9caf8f','standard',5,1,'round');
INSERT INTO "stock_colour" VALUES(7,'Blush','#eec3bd','standard',6,1,'round');
INSERT INTO "stock_colour" VALUES(8,'Gold','#c79a3e','metallic',7,1,'round');
INSERT INTO "stock_colour" VALUES(9,'Silver','#b9bdc4','metallic',8,1,'round');
INSERT INTO "stock_colour" VALUES(10,'Sky','#8fc1e3','standard',9,1,'round');
INSERT INTO "stock_colour" VALUES(11,'Coral','#f0775e','standard',10,1,'round');
INSERT INTO "stock_colour" VALUES(12,'Butter','#f5e08e','standard',11,1,'round');
CREATE TABLE "stock_countline" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "counted" integer unsigned NOT NULL CHECK ("counted" >= 0), "expected" integer NOT NULL, "newest_movement" bigint unsigned NOT NULL CHECK ("newest_movement" >= 0), "weighed_milligrams" bigint unsigned NULL CHECK ("weighed_milligrams" >= 0), "why" varchar(160) NOT NULL, "at" datetime NOT NULL, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NOT NULL REFERENCES "stock_countsheet" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_count_lists_an_item_once" UNIQUE ("sheet_id", "item_id"));
INSERT INTO "stock_countline" VALUES(1,341,341,18,NULL,'','2026-11-25 12:00:00',2,38,1);
INSERT INTO "stock_countline" VALUES(2,318,318,19,NULL,'','2026-11-25 12:00:00',2,36,1);
CREATE TABLE "stock_countsheet" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "started_at" datetime NOT NULL, "is_open" bool NOT NULL, "finished_at" datetime NULL, "finished_by_id" bigint NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "started_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_finished_count_says_when_and_by_whom" CHECK ((("finished_at" IS NULL AND "is_open") OR ("finished_at" IS NOT NULL AND "finished_by_id" IS NOT NULL AND NOT "is_open"))));
INSERT INTO "stock_countsheet" VALUES(1,'2026-11-25 12:00:00',1,NULL,NULL,2);
CREATE TABLE "stock_doublerecipe" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "swatch" varchar(7) NOT NULL, "inner_id" bigint NOT NULL REFERENCES "stock_colour" ("id") DEFERRABLE INITIALLY DEFERRED, "looks_like_id" bigint NOT NULL REFERENCES "stock_colour" ("id") DEFERRABLE INITIALLY DEFERRED, "outer_id" bigint NOT NULL REFERENCES "stock_colour" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_double_is_of_two_colours" CHECK (NOT ("outer_id" = ("inner_id"))), CONSTRAINT "a_double_stands_in_for_another_colour" CHECK ((NOT ("outer_id" = ("looks_like_id")) AND NOT ("inner_id" = ("looks_like_id")))), CONSTRAINT "a_double_is_written_down_once" UNIQUE ("outer_id", "inner_id", "looks_like_id"));
INSERT INTO "stock_doublerecipe" VALUES(1,'#e9bfae',5,7,4);
CREATE TABLE "stock_item" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "sort" varchar(6) NOT NULL, "size" smallint unsigned NULL CHECK ("size" >= 0), "name" varchar(60) NOT NULL, "unit" varchar(12) NOT NULL, "keep_back" integer unsigned NOT NULL CHECK ("keep_back" >= 0), "place" varchar(40) NOT NULL, "colour_id" bigint NULL REFERENCES "stock_colour" ("id") DEFERRABLE INITIALLY DEFERRED, "barcode" varchar(48) NOT NULL, "best_before_months" smallint unsigned NULL CHECK ("best_before_months" >= 0), "piece_milligrams" integer unsigned NULL CHECK ("piece_milligrams" >= 0), CONSTRAINT "a_balloon_has_a_colour_and_a_size" CHECK ((("colour_id" IS NOT NULL AND "size" IS NOT NULL AND "sort" = 'latex') OR NOT ("sort" = 'latex'))), CONSTRAINT "what_is_no_balloon_has_a_name" CHECK (("sort" = 'latex' OR NOT ("name" = ''))), CONSTRAINT "a_piece_weighs_something" CHECK (("piece_milligrams" IS NULL OR "piece_milligrams" >= 1)));
INSERT INTO "stock_item" VALUES(1,'latex',11,'','each',0,'',1,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(2,'latex',16,'','each',0,'',1,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(3,'latex',24,'','each',0,'',1,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(4,'latex',36,'','each',0,'',1,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(5,'latex',5,'','each',0,'',1,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(6,'latex',11,'','each',0,'',10,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(7,'latex',16,'','each',0,'',10,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(8,'latex',5,'','each',0,'',10,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(9,'latex',11,'','each',0,'',11,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(10,'latex',16,'','each',0,'',11,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(11,'latex',5,'','each',0,'',11,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(12,'latex',11,'','each',0,'',12,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(13,'latex',16,'','each',0,'',12,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(14,'latex',5,'','each',0,'',12,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(15,'latex',11,'','each',0,'',2,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(16,'latex',16,'','each',0,'',2,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(17,'latex',24,'','each',0,'',2,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(18,'latex',36,'','each',0,'',2,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(19,'latex',5,'','each',0,'',2,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(20,'latex',11,'','each',0,'',3,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(21,'latex',16,'','each',0,'',3,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(22,'latex',24,'','each',0,'',3,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(23,'latex',36,'','each',0,'',3,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(24,'latex',5,'','each',0,'',3,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(25,'latex',11,'','each',0,'',4,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(26,'latex',16,'','each',0,'',4,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(27,'latex',24,'','each',0,'',4,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(28,'latex',36,'','each',0,'',4,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(29,'latex',5,'','each',0,'',4,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(30,'latex',11,'','each',0,'',5,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(31,'latex',16,'','each',0,'',5,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(32,'latex',5,'','each',0,'',5,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(33,'latex',11,'','each',0,'',6,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(34,'latex',16,'','each',0,'',6,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(35,'latex',5,'','each',0,'',6,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(36,'latex',11,'','each',0,'',7,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(37,'latex',16,'','each',0,'',7,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(38,'latex',5,'','each',0,'',7,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(39,'latex',11,'','each',0,'',8,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(40,'latex',16,'','each',0,'',8,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(41,'latex',5,'','each',0,'',8,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(42,'latex',11,'','each',0,'',9,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(43,'latex',16,'','each',0,'',9,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(44,'latex',5,'','each',0,'',9,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(45,'decal',NULL,'Decals','each',0,'',NULL,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(46,'gas',NULL,'Helium','litre',0,'',NULL,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(47,'hook',NULL,'Hooks','each',0,'',NULL,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(48,'line',NULL,'Line','ft',0,'',NULL,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(49,'ribbon',NULL,'Ribbon','ft',0,'',NULL,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(50,'tie',260,'260 ties','each',0,'',NULL,'',NULL,NULL);
INSERT INTO "stock_item" VALUES(51,'weight',NULL,'Weights','each',0,'',NULL,'',NULL,NULL);
CREATE TABLE "stock_kit" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(60) NOT NULL, "sort" varchar(6) NOT NULL, "cleaning_days" smallint unsigned NOT NULL CHECK ("cleaning_days" >= 0), "wear_minor" bigint unsigned NOT NULL CHECK ("wear_minor" >= 0), "weight_grams" integer unsigned NULL CHECK ("weight_grams" >= 0), "place" varchar(40) NOT NULL, "notes" text NOT NULL, "height_mm" decimal NULL, "carries_grams" integer unsigned NULL CHECK ("carries_grams" >= 0), "retired_at" datetime NULL, CONSTRAINT "kit_has_a_name" CHECK (NOT ("name" = '')), CONSTRAINT "only_a_ladder_has_a_height_and_a_duty_rating" CHECK (("sort" = 'ladder' OR ("carries_grams" IS NULL AND "height_mm" IS NULL))), CONSTRAINT "kit_is_clean_in_the_end" CHECK ("cleaning_days" <= 60), CONSTRAINT "kit_weighs_something" CHECK (("weight_grams" IS NULL OR "weight_grams" >= 1)));
INSERT INTO "stock_kit" VALUES(1,'Arch frame','frame',1,450,9500,'loft','',NULL,NULL,NULL);
INSERT INTO "stock_kit" VALUES(2,'Base plate','stand',1,60,4200,'by the door','',NULL,NULL,NULL);
INSERT INTO "stock_kit" VALUES(3,'Electric pump','pump',0,90,1400,'bench','',NULL,NULL,NULL);
INSERT INTO "stock_kit" VALUES(4,'Extension lead, 50 ft','lead',0,20,2300,'bench','',NULL,NULL,NULL);
INSERT INTO "stock_kit" VALUES(5,'Step ladder, 8 ft','ladder',0,75,11300,'by the door','',2438.4,136078,NULL);
CREATE TABLE "stock_kitmovement" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(7) NOT NULL, "quantity" integer NOT NULL, "at" datetime NOT NULL, "why" varchar(200) NOT NULL, "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "kit_id" bigint NOT NULL REFERENCES "stock_kit" ("id") DEFERRABLE INITIALLY DEFERRED, "promise_id" bigint NULL REFERENCES "stock_kitpromise" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_movement_of_kit_goes_the_way_its_kind_says" CHECK ((("kind" = 'got' AND "quantity" > 0) OR ("kind" IN ('broken', 'lost') AND "quantity" < 0) OR "kind" = 'counted')));
INSERT INTO "stock_kitmovement" VALUES(1,'got',1,'2026-11-25 12:00:00','first listed',1,1,NULL);
INSERT INTO "stock_kitmovement" VALUES(2,'got',4,'2026-11-25 12:00:00','first listed',1,2,NULL);
INSERT INTO "stock_kitmovement" VALUES(3,'got',2,'2026-11-25 12:00:00','first listed',1,3,NULL);
INSERT INTO "stock_kitmovement" VALUES(4,'got',3,'2026-11-25 12:00:00','first listed',1,4,NULL);
INSERT INTO "stock_kitmovement" VALUES(5,'got',2,'2026-11-25 12:00:00','first listed',1,5,NULL);
CREATE TABLE "stock_kitpromise" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "quantity" integer unsigned NOT NULL CHECK ("quantity" >= 0), "out_on" date NOT NULL, "back_on" date NOT NULL, "booking" integer unsigned NOT NULL CHECK ("booking" >= 0), "booking_name" varchar(120) NOT NULL, "firm" bool NOT NULL, "made_at" datetime NOT NULL, "closed_at" datetime NULL, "taken_out_at" datetime NULL, "came_back_at" datetime NULL, "damage" varchar(160) NOT NULL, "came_back_by_id" bigint NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "kit_id" bigint NOT NULL REFERENCES "stock_kit" ("id") DEFERRABLE INITIALLY DEFERRED, "made_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "taken_out_by_id" bigint NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_promise_is_of_some_kit" CHECK ("quantity" >= 1), CONSTRAINT "kit_comes_back_after_it_goes_out" CHECK ("back_on" >= ("out_on")), CONSTRAINT "kit_that_went_out_was_taken_by_somebody" CHECK ((("taken_out_at" IS NULL AND "taken_out_by_id" IS NULL) OR ("closed_at" IS NULL AND "taken_out_at" IS NOT NULL AND "taken_out_by_id" IS NOT NULL))), CONSTRAINT "only_kit_that_went_out_comes_back" CHECK ((("came_back_at" IS NULL AND "came_back_by_id" IS NULL AND "damage" = '') OR ("came_back_at" >= ("taken_out_at") AND "came_back_by_id" IS NOT NULL AND "taken_out_at" IS NOT NULL))));
INSERT INTO "stock_kitpromise" VALUES(1,1,'2026-12-04','2026-12-12',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,1,1,NULL);
INSERT INTO "stock_kitpromise" VALUES(2,1,'2026-12-04','2026-12-06',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,5,1,NULL);
INSERT INTO "stock_kitpromise" VALUES(3,1,'2026-12-11','2026-12-13',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,1,1,NULL);
INSERT INTO "stock_kitpromise" VALUES(4,1,'2026-12-11','2026-12-13',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,3,1,NULL);
INSERT INTO "stock_kitpromise" VALUES(5,1,'2026-12-11','2026-12-13',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,5,1,NULL);
INSERT INTO "stock_kitpromise" VALUES(6,2,'2026-12-25','2026-12-27',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,2,1,NULL);
INSERT INTO "stock_kitpromise" VALUES(7,1,'2026-12-25','2026-12-27',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,NULL,NULL,'',NULL,3,1,NULL);
CREATE TABLE "stock_lot" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "received_on" date NOT NULL, "best_before" date NULL, "place" varchar(40) NOT NULL, "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "stock_lot" VALUES(1,'2026-11-25','2027-03-05','back shelf',30);
CREATE TABLE "stock_movement" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(11) NOT NULL, "quantity" integer NOT NULL, "at" datetime NOT NULL, "why" varchar(200) NOT NULL, "booking" integer unsigned NULL CHECK ("booking" >= 0), "by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "order_line_id" bigint NULL REFERENCES "stock_orderline" ("id") DEFERRABLE INITIALLY DEFERRED, "lot_id" bigint NULL REFERENCES "stock_lot" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_movement_goes_the_way_its_kind_says" CHECK ((("kind" = 'received' AND "quantity" > 0) OR ("kind" IN ('used', 'written_off') AND "quantity" < 0) OR "kind" = 'counted')));
INSERT INTO "stock_movement" VALUES(1,'counted',320,'2026-11-25 12:00:00','first count',NULL,1,5,NULL,NULL);
INSERT INTO "stock_movement" VALUES(2,'counted',54,'2026-11-25 12:00:00','first count',NULL,1,2,NULL,NULL);
INSERT INTO "stock_movement" VALUES(3,'counted',341,'2026-11-25 12:00:00','first count',NULL,1,19,NULL,NULL);
INSERT INTO "stock_movement" VALUES(4,'counted',318,'2026-11-25 12:00:00','first count',NULL,1,15,NULL,NULL);
INSERT INTO "stock_movement" VALUES(5,'counted',40,'2026-11-25 12:00:00','first count',NULL,1,16,NULL,NULL);
INSERT INTO "stock_movement" VALUES(6,'counted',327,'2026-11-25 12:00:00','first count',NULL,1,24,NULL,NULL);
INSERT INTO "stock_movement" VALUES(7,'counted',304,'2026-11-25 12:00:00','first count',NULL,1,20,NULL,NULL);
INSERT INTO "stock_movement" VALUES(8,'counted',61,'2026-11-25 12:00:00','first count',NULL,1,21,NULL,NULL);
INSERT INTO "stock_movement" VALUES(9,'counted',348,'2026-11-25 12:00:00','first count',NULL,1,29,NULL,NULL);
INSERT INTO "stock_movement" VALUES(10,'counted',290,'2026-11-25 12:00:00','first count',NULL,1,25,NULL,NULL);
INSERT INTO "stock_movement" VALUES(11,'counted',47,'2026-11-25 12:00:00','first count',NULL,1,26,NULL,NULL);
INSERT INTO "stock_movement" VALUES(12,'counted',334,'2026-11-25 12:00:00','first count',NULL,1,32,NULL,NULL);
INSERT INTO "stock_movement" VALUES(13,'counted',311,'2026-11-25 12:00:00','first count',NULL,1,30,NULL,NULL);
INSERT INTO "stock_movement" VALUES(14,'counted',68,'2026-11-25 12:00:00','first count',NULL,1,31,NULL,NULL);
INSERT INTO "stock_movement" VALUES(15,'counted',320,'2026-11-25 12:00:00','first count',NULL,1,35,NULL,NULL);
INSERT INTO "stock_movement" VALUES(16,'counted',297,'2026-11-25 12:00:00','first count',NULL,1,33,NULL,NULL);
INSERT INTO "stock_movement" VALUES(17,'counted',54,'2026-11-25 12:00:00','first count',NULL,1,34,NULL,NULL);
INSERT INTO "stock_movement" VALUES(18,'counted',341,'2026-11-25 12:00:00','first count',NULL,1,38,NULL,NULL);
INSERT INTO "stock_movement" VALUES(19,'counted',318,'2026-11-25 12:00:00','first count',NULL,1,36,NULL,NULL);
INSERT INTO "stock_movement" VALUES(20,'counted',40,'2026-11-25 12:00:00','first count',NULL,1,37,NULL,NULL);
INSERT INTO "stock_movement" VALUES(21,'counted',327,'2026-11-25 12:00:00','first count',NULL,1,41,NULL,NULL);
INSERT INTO "stock_movement" VALUES(22,'counted',304,'2026-11-25 12:00:00','first count',NULL,1,39,NULL,NULL);
INSERT INTO "stock_movement" VALUES(23,'counted',61,'2026-11-25 12:00:00','first count',NULL,1,40,NULL,NULL);
INSERT INTO "stock_movement" VALUES(24,'counted',348,'2026-11-25 12:00:00','first count',NULL,1,44,NULL,NULL);
INSERT INTO "stock_movement" VALUES(25,'counted',290,'2026-11-25 12:00:00','first count',NULL,1,42,NULL,NULL);
INSERT INTO "stock_movement" VALUES(26,'counted',47,'2026-11-25 12:00:00','first count',NULL,1,43,NULL,NULL);
INSERT INTO "stock_movement" VALUES(27,'counted',334,'2026-11-25 12:00:00','first count',NULL,1,8,NULL,NULL);
INSERT INTO "stock_movement" VALUES(28,'counted',311,'2026-11-25 12:00:00','first count',NULL,1,6,NULL,NULL);
INSERT INTO "stock_movement" VALUES(29,'counted',68,'2026-11-25 12:00:00','first count',NULL,1,7,NULL,NULL);
INSERT INTO "stock_movement" VALUES(30,'counted',320,'2026-11-25 12:00:00','first count',NULL,1,11,NULL,NULL);
INSERT INTO "stock_movement" VALUES(31,'counted',297,'2026-11-25 12:00:00','first count',NULL,1,9,NULL,NULL);
INSERT INTO "stock_movement" VALUES(32,'counted',54,'2026-11-25 12:00:00','first count',NULL,1,10,NULL,NULL);
INSERT INTO "stock_movement" VALUES(33,'counted',341,'2026-11-25 12:00:00','first count',NULL,1,14,NULL,NULL);
INSERT INTO "stock_movement" VALUES(34,'counted',318,'2026-11-25 12:00:00','first count',NULL,1,12,NULL,NULL);
INSERT INTO "stock_movement" VALUES(35,'counted',40,'2026-11-25 12:00:00','first count',NULL,1,13,NULL,NULL);
INSERT INTO "stock_movement" VALUES(36,'counted',13,'2026-11-25 12:00:00','first count',NULL,1,3,NULL,NULL);
INSERT INTO "stock_movement" VALUES(37,'counted',18,'2026-11-25 12:00:00','first count',NULL,1,4,NULL,NULL);
INSERT INTO "stock_movement" VALUES(38,'counted',27,'2026-11-25 12:00:00','first count',NULL,1,17,NULL,NULL);
INSERT INTO "stock_movement" VALUES(39,'counted',32,'2026-11-25 12:00:00','first count',NULL,1,18,NULL,NULL);
INSERT INTO "stock_movement" VALUES(40,'counted',6,'2026-11-25 12:00:00','first count',NULL,1,22,NULL,NULL);
INSERT INTO "stock_movement" VALUES(41,'counted',11,'2026-11-25 12:00:00','first count',NULL,1,23,NULL,NULL);
INSERT INTO "stock_movement" VALUES(42,'counted',20,'2026-11-25 12:00:00','first count',NULL,1,27,NULL,NULL);
INSERT INTO "stock_movement" VALUES(43,'counted',25,'2026-11-25 12:00:00','first count',NULL,1,28,NULL,NULL);
INSERT INTO "stock_movement" VALUES(44,'counted',640,'2026-11-25 12:00:00','first count',NULL,1,50,NULL,NULL);
INSERT INTO "stock_movement" VALUES(45,'counted',420,'2026-11-25 12:00:00','first count',NULL,1,48,NULL,NULL);
INSERT INTO "stock_movement" VALUES(46,'counted',160,'2026-11-25 12:00:00','first count',NULL,1,47,NULL,NULL);
INSERT INTO "stock_movement" VALUES(47,'counted',740,'2026-11-25 12:00:00','first count',NULL,1,49,NULL,NULL);
INSERT INTO "stock_movement" VALUES(48,'counted',24,'2026-11-25 12:00:00','first count',NULL,1,51,NULL,NULL);
INSERT INTO "stock_movement" VALUES(49,'counted',5200,'2026-11-25 12:00:00','first count',NULL,1,46,NULL,NULL);
INSERT INTO "stock_movement" VALUES(50,'counted',2,'2026-11-25 12:00:00','first count',NULL,1,45,NULL,NULL);
INSERT INTO "stock_movement" VALUES(51,'counted',91,'2026-11-25 12:00:00','first count',NULL,1,1,NULL,NULL);
INSERT INTO "stock_movement" VALUES(52,'received',200,'2026-11-25 12:00:00','bought at a closing sale',NULL,1,30,NULL,1);
INSERT INTO "stock_movement" VALUES(53,'used',-43,'2026-10-30 12:00:00','',5,2,6,NULL,NULL);
INSERT INTO "stock_movement" VALUES(54,'used',-19,'2026-10-30 12:00:00','',5,2,8,NULL,NULL);
INSERT INTO "stock_movement" VALUES(55,'used',-33,'2026-10-30 12:00:00','',5,2,9,NULL,NULL);
INSERT INTO "stock_movement" VALUES(56,'used',-14,'2026-10-30 12:00:00','',5,2,11,NULL,NULL);
INSERT INTO "stock_movement" VALUES(57,'used',-33,'2026-10-30 12:00:00','',5,2,12,NULL,NULL);
INSERT INTO "stock_movement" VALUES(58,'used',-15,'2026-10-30 12:00:00','',5,2,14,NULL,NULL);
INSERT INTO "stock_movement" VALUES(59,'used',-10,'2026-10-30 12:00:00','',5,2,47,NULL,NULL);
INSERT INTO "stock_movement" VALUES(60,'used',-22,'2026-10-30 12:00:00','',5,2,48,NULL,NULL);
INSERT INTO "stock_movement" VALUES(61,'used',-24,'2026-10-30 12:00:00','',5,2,50,NULL,NULL);
INSERT INTO "stock_movement" VALUES(62,'received',1,'2026-11-01 12:00:00','brought home',5,2,6,NULL,NULL);
INSERT INTO "stock_movement" VALUES(63,'received',1,'2026-11-01 12:00:00','brought home',5,2,8,NULL,NULL);
INSERT INTO "stock_movement" VALUES(64,'received',1,'2026-11-01 12:00:00','brought home',5,2,9,NULL,NULL);
INSERT INTO "stock_movement" VALUES(65,'received',1,'2026-11-01 12:00:00','brought home',5,2,11,NULL,NULL);
INSERT INTO "stock_movement" VALUES(66,'received',1,'2026-11-01 12:00:00','brought home',5,2,12,NULL,NULL);
INSERT INTO "stock_movement" VALUES(67,'received',1,'2026-11-01 12:00:00','brought home',5,2,14,NULL,NULL);
INSERT INTO "stock_movement" VALUES(68,'received',1,'2026-11-01 12:00:00','brought home',5,2,47,NULL,NULL);
INSERT INTO "stock_movement" VALUES(69,'received',2,'2026-11-01 12:00:00','brought home',5,2,50,NULL,NULL);
CREATE TABLE "stock_offer" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "pack_size" integer unsigned NOT NULL CHECK ("pack_size" >= 0), "price_minor" bigint unsigned NOT NULL CHECK ("price_minor" >= 0), "lead_days" smallint unsigned NOT NULL CHECK ("lead_days" >= 0), "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "supplier_id" bigint NOT NULL REFERENCES "stock_supplier" ("id") DEFERRABLE INITIALLY DEFERRED, "their_code" varchar(40) NOT NULL, "their_name" varchar(80) NOT NULL, CONSTRAINT "a_pack_holds_at_least_one" CHECK ("pack_size" >= 1), CONSTRAINT "an_offer_is_made_once_per_pack_size" UNIQUE ("supplier_id", "item_id", "pack_size"));
INSERT INTO "stock_offer" VALUES(1,100,620,5,5,1,'','');
INSERT INTO "stock_offer" VALUES(2,50,341,9,5,2,'ND-10-05','Shade 10 round');
INSERT INTO "stock_offer" VALUES(3,100,1450,5,1,1,'','');
INSERT INTO "stock_offer" VALUES(4,50,797,9,1,2,'ND-10-11','Shade 10 round');
INSERT INTO "stock_offer" VALUES(5,50,2250,5,2,1,'','');
INSERT INTO "stock_offer" VALUES(6,100,620,5,19,1,'','');
INSERT INTO "stock_offer" VALUES(7,50,341,9,19,2,'ND-11-05','Shade 11 round');
INSERT INTO "stock_offer" VALUES(8,100,1450,5,15,1,'','');
INSERT INTO "stock_offer" VALUES(9,50,797,9,15,2,'ND-11-11','Shade 11 round');
INSERT INTO "stock_offer" VALUES(10,50,2250,5,16,1,'','');
INSERT INTO "stock_offer" VALUES(11,100,620,5,24,1,'','');
INSERT INTO "stock_offer" VALUES(12,50,341,9,24,2,'ND-12-05','Shade 12 round');
INSERT INTO "stock_offer" VALUES(13,100,1450,5,20,1,'','');
INSERT INTO "stock_offer" VALUES(14,50,797,9,20,2,'ND-12-11','Shade 12 round');
INSERT INTO "stock_offer" VALUES(15,50,2250,5,21,1,'','');
INSERT INTO "stock_offer" VALUES(16,100,620,5,29,1,'','');
INSERT INTO "stock_offer" VALUES(17,50,341,9,29,2,'ND-13-05','Shade 13 round');
INSERT INTO "stock_offer" VALUES(18,100,1450,5,25,1,'','');
INSERT INTO "stock_offer" VALUES(19,50,797,9,25,2,'ND-13-11','Shade 13 round');
INSERT INTO "stock_offer" VALUES(20,50,2250,5,26,1,'','');
INSERT INTO "stock_offer" VALUES(21,100,620,5,32,1,'','');
INSERT INTO "stock_offer" VALUES(22,50,341,9,32,2,'ND-14-05','Shade 14 round');
INSERT INTO "stock_offer" VALUES(23,100,1450,5,30,1,'','');
INSERT INTO "stock_offer" VALUES(24,50,797,9,30,2,'ND-14-11','Shade 14 round');
INSERT INTO "stock_offer" VALUES(25,50,2250,5,31,1,'','');
INSERT INTO "stock_offer" VALUES(26,100,620,5,35,1,'','');
INSERT INTO "stock_offer" VALUES(27,50,341,9,35,2,'ND-15-05','Shade 15 round');
INSERT INTO "stock_offer" VALUES(28,100,1450,5,33,1,'','');
INSERT INTO "stock_offer" VALUES(29,50,797,9,33,2,'ND-15-11','Shade 15 round');
INSERT INTO "stock_offer" VALUES(30,50,2250,5,34,1,'','');
INSERT INTO "stock_offer" VALUES(31,100,620,5,38,1,'','');
INSERT INTO "stock_offer" VALUES(32,50,341,9,38,2,'ND-16-05','Shade 16 round');
INSERT INTO "stock_offer" VALUES(33,100,1450,5,36,1,'','');
INSERT INTO "stock_offer" VALUES(34,50,797,9,36,2,'ND-16-11','Shade 16 round');
INSERT INTO "stock_offer" VALUES(35,50,2250,5,37,1,'','');
INSERT INTO "stock_offer" VALUES(36,100,620,5,41,1,'','');
INSERT INTO "stock_offer" VALUES(37,50,341,9,41,2,'ND-17-05','Shade 17 round');
INSERT INTO "stock_offer" VALUES(38,100,1450,5,39,1,'','');
INSERT INTO "stock_offer" VALUES(39,50,797,9,39,2,'ND-17-11','Shade 17 round');
INSERT INTO "stock_offer" VALUES(40,50,2250,5,40,1,'','');
INSERT INTO "stock_offer" VALUES(41,100,620,5,44,1,'','');
INSERT INTO "stock_offer" VALUES(42,50,341,9,44,2,'ND-18-05','Shade 18 round');
INSERT INTO "stock_offer" VALUES(43,100,1450,5,42,1,'','');
INSERT INTO "stock_offer" VALUES(44,50,797,9,42,2,'ND-18-11','Shade 18 round');
INSERT INTO "stock_offer" VALUES(45,50,2250,5,43,1,'','');
INSERT INTO "stock_offer" VALUES(46,100,620,5,8,1,'','');
INSERT INTO "stock_offer" VALUES(47,50,341,9,8,2,'ND-19-05','Shade 19 round');
INSERT INTO "stock_offer" VALUES(48,100,1450,5,6,1,'','');
INSERT INTO "stock_offer" VALUES(49,50,797,9,6,2,'ND-19-11','Shade 19 round');
INSERT INTO "stock_offer" VALUES(50,50,2250,5,7,1,'','');
INSERT INTO "stock_offer" VALUES(51,100,620,5,11,1,'','');
INSERT INTO "stock_offer" VALUES(52,50,341,9,11,2,'ND-20-05','Shade 20 round');
INSERT INTO "stock_offer" VALUES(53,100,1450,5,9,1,'','');
INSERT INTO "stock_offer" VALUES(54,50,797,9,9,2,'ND-20-11','Shade 20 round');
INSERT INTO "stock_offer" VALUES(55,50,2250,5,10,1,'','');
INSERT INTO "stock_offer" VALUES(56,100,620,5,14,1,'','');
INSERT INTO "stock_offer" VALUES(57,50,341,9,14,2,'ND-21-05','Shade 21 round');
INSERT INTO "stock_offer" VALUES(58,100,1450,5,12,1,'','');
INSERT INTO "stock_offer" VALUES(59,50,797,9,12,2,'ND-21-11','Shade 21 round');
INSERT INTO "stock_offer" VALUES(60,50,2250,5,13,1,'','');
INSERT INTO "stock_offer" VALUES(61,5,1290,7,3,1,'','');
INSERT INTO "stock_offer" VALUES(62,2,790,7,4,1,'','');
INSERT INTO "stock_offer" VALUES(63,5,1290,7,17,1,'','');
INSERT INTO "stock_offer" VALUES(64,2,790,7,18,1,'','');
INSERT INTO "stock_offer" VALUES(65,5,1290,7,22,1,'','');
INSERT INTO "stock_offer" VALUES(66,2,790,7,23,1,'','');
INSERT INTO "stock_offer" VALUES(67,5,1290,7,27,1,'','');
INSERT INTO "stock_offer" VALUES(68,2,790,7,28,1,'','');
INSERT INTO "stock_offer" VALUES(69,100,900,5,50,1,'','');
INSERT INTO "stock_offer" VALUES(70,300,700,5,48,1,'','');
INSERT INTO "stock_offer" VALUES(71,40,1150,5,47,1,'','');
INSERT INTO "stock_offer" VALUES(72,500,480,5,49,1,'','');
INSERT INTO "stock_offer" VALUES(73,10,650,5,51,1,'','');
INSERT INTO "stock_offer" VALUES(74,3900,15500,3,46,1,'','');
INSERT INTO "stock_offer" VALUES(75,1,700,4,45,1,'','');
CREATE TABLE "stock_order" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "state" varchar(9) NOT NULL, "created_at" datetime NOT NULL, "placed_on" date NULL, "expected_on" date NULL, "created_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "supplier_id" bigint NOT NULL REFERENCES "stock_supplier" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "a_placed_order_says_when_it_comes" CHECK (("state" IN ('planned', 'cancelled') OR ("expected_on" IS NOT NULL AND "placed_on" IS NOT NULL))));
INSERT INTO "stock_order" VALUES(1,'placed','2026-11-25 12:00:00','2026-11-24','2026-11-29',1,1);
CREATE TABLE "stock_orderline" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "packs" integer unsigned NOT NULL CHECK ("packs" >= 0), "pack_size" integer unsigned NOT NULL CHECK ("pack_size" >= 0), "price_minor" bigint unsigned NOT NULL CHECK ("price_minor" >= 0), "received" integer unsigned NOT NULL CHECK ("received" >= 0), "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "order_id" bigint NOT NULL REFERENCES "stock_order" ("id") DEFERRABLE INITIALLY DEFERRED, "their_code" varchar(40) NOT NULL, "their_name" varchar(80) NOT NULL, CONSTRAINT "an_order_line_buys_something" CHECK (("pack_size" >= 1 AND "packs" >= 1)), CONSTRAINT "an_order_lists_a_pack_once" UNIQUE ("order_id", "item_id", "pack_size"));
INSERT INTO "stock_orderline" VALUES(1,2,100,620,0,29,1,'','');
CREATE TABLE "stock_reservation" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "quantity" integer unsigned NOT NULL CHECK ("quantity" >= 0), "needed_on" date NOT NULL, "booking" integer unsigned NOT NULL CHECK ("booking" >= 0), "booking_name" varchar(120) NOT NULL, "firm" bool NOT NULL, "made_at" datetime NOT NULL, "closed_at" datetime NULL, "item_id" bigint NOT NULL REFERENCES "stock_item" ("id") DEFERRABLE INITIALLY DEFERRED, "lapses_on" date NULL, CONSTRAINT "a_reservation_holds_something" CHECK ("quantity" >= 1));
INSERT INTO "stock_reservation" VALUES(1,53,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',1,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(2,7,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',2,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(3,26,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',5,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(4,41,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',15,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(5,5,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',16,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(6,20,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',19,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(7,23,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',39,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(8,4,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',40,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(9,11,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',41,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(10,13,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',47,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(11,30,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',48,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(12,41,'2026-12-04',1,'Ferry office 50 years',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',50,'2026-12-04');
INSERT INTO "stock_reservation" VALUES(13,53,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,1,NULL);
INSERT INTO "stock_reservation" VALUES(14,7,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,2,NULL);
INSERT INTO "stock_reservation" VALUES(15,26,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,5,NULL);
INSERT INTO "stock_reservation" VALUES(16,41,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,15,NULL);
INSERT INTO "stock_reservation" VALUES(17,5,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,16,NULL);
INSERT INTO "stock_reservation" VALUES(18,20,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,19,NULL);
INSERT INTO "stock_reservation" VALUES(19,23,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,39,NULL);
INSERT INTO "stock_reservation" VALUES(20,4,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,40,NULL);
INSERT INTO "stock_reservation" VALUES(21,11,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,41,NULL);
INSERT INTO "stock_reservation" VALUES(22,13,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,47,NULL);
INSERT INTO "stock_reservation" VALUES(23,30,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,48,NULL);
INSERT INTO "stock_reservation" VALUES(24,41,'2026-12-04',1,'Ferry office 50 years',1,'2026-11-25 12:00:00',NULL,50,NULL);
INSERT INTO "stock_reservation" VALUES(25,94,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',1,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(26,12,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',2,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(27,1,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',4,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(28,46,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',5,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(29,35,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',15,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(30,5,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',16,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(31,18,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',19,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(32,43,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',39,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(33,6,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',40,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(34,21,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',41,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(35,1,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',45,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(36,416,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',46,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(37,16,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',47,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(38,36,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',48,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(39,49,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',49,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(40,58,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',50,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(41,3,'2026-12-11',2,'Winter gala',0,'2026-11-25 12:00:00','2026-11-25 12:00:00',51,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(42,94,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,1,NULL);
INSERT INTO "stock_reservation" VALUES(43,12,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,2,NULL);
INSERT INTO "stock_reservation" VALUES(44,1,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,4,NULL);
INSERT INTO "stock_reservation" VALUES(45,46,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,5,NULL);
INSERT INTO "stock_reservation" VALUES(46,35,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,15,NULL);
INSERT INTO "stock_reservation" VALUES(47,5,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,16,NULL);
INSERT INTO "stock_reservation" VALUES(48,18,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,19,NULL);
INSERT INTO "stock_reservation" VALUES(49,43,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,39,NULL);
INSERT INTO "stock_reservation" VALUES(50,6,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,40,NULL);
INSERT INTO "stock_reservation" VALUES(51,21,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,41,NULL);
INSERT INTO "stock_reservation" VALUES(52,1,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,45,NULL);
INSERT INTO "stock_reservation" VALUES(53,416,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,46,NULL);
INSERT INTO "stock_reservation" VALUES(54,16,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,47,NULL);
INSERT INTO "stock_reservation" VALUES(55,36,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,48,NULL);
INSERT INTO "stock_reservation" VALUES(56,49,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,49,NULL);
INSERT INTO "stock_reservation" VALUES(57,58,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,50,NULL);
INSERT INTO "stock_reservation" VALUES(58,3,'2026-12-11',2,'Winter gala',1,'2026-11-25 12:00:00',NULL,51,NULL);
INSERT INTO "stock_reservation" VALUES(59,36,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,15,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(60,55,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,20,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(61,7,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,21,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(62,27,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,24,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(63,85,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,25,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(64,6,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,26,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(65,2,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,28,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(66,21,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,29,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(67,29,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,30,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(68,4,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,31,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(69,14,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,32,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(70,15,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,33,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(71,3,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,34,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(72,7,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,35,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(73,13,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,47,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(74,56,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,48,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(75,60,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,50,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(76,2,'2026-12-25',3,'Barn wedding',0,'2026-11-25 12:00:00',NULL,51,'2026-12-09');
INSERT INTO "stock_reservation" VALUES(77,43,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',6,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(78,19,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',8,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(79,33,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',9,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(80,14,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',11,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(81,33,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',12,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(82,15,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',14,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(83,10,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',47,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(84,22,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',48,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(85,24,'2026-10-30',5,'Lifeboat supper',0,'2026-10-10 12:00:00','2026-10-10 12:00:00',50,'2026-10-24');
INSERT INTO "stock_reservation" VALUES(86,43,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',6,NULL);
INSERT INTO "stock_reservation" VALUES(87,19,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',8,NULL);
INSERT INTO "stock_reservation" VALUES(88,33,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',9,NULL);
INSERT INTO "stock_reservation" VALUES(89,14,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',11,NULL);
INSERT INTO "stock_reservation" VALUES(90,33,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',12,NULL);
INSERT INTO "stock_reservation" VALUES(91,15,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',14,NULL);
INSERT INTO "stock_reservation" VALUES(92,10,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',47,NULL);
INSERT INTO "stock_reservation" VALUES(93,22,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',48,NULL);
INSERT INTO "stock_reservation" VALUES(94,24,'2026-10-30',5,'Lifeboat supper',1,'2026-10-10 12:00:00','2026-10-30 12:00:00',50,NULL);
CREATE TABLE "stock_shelfrules" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "latex_months" smallint unsigned NOT NULL CHECK ("latex_months" >= 0), "most_unexplained" integer unsigned NOT NULL CHECK ("most_unexplained" >= 0), CONSTRAINT "there_is_one_set_of_shelf_rules" CHECK ("id" = 1));
CREATE TABLE "stock_spreadsheet" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "rows" text NOT NULL CHECK ((JSON_VALID("rows") OR "rows" IS NULL)), "sent_at" datetime NOT NULL, "taken_over_at" datetime NULL, "said" varchar(200) NOT NULL, "sent_by_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "stock_supplier" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(80) NOT NULL UNIQUE, "email" varchar(254) NOT NULL, "phone" varchar(40) NOT NULL, "delivery_minor" bigint unsigned NOT NULL CHECK ("delivery_minor" >= 0), "free_from_minor" bigint unsigned NULL CHECK ("free_from_minor" >= 0), "minimum_minor" bigint unsigned NOT NULL CHECK ("minimum_minor" >= 0));
INSERT INTO "stock_supplier" VALUES(1,'Quayside Party Wholesale','orders@quayside.example','555-0117',950,9000,0);
INSERT INTO "stock_supplier" VALUES(2,'Northlight Balloon Depot','desk@northlight.example','',600,NULL,2500);
CREATE TABLE "studio_signinattempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" varchar(64) NOT NULL, "at" datetime NOT NULL);
CREATE TABLE "studio_studio" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "email" varchar(254) NOT NULL, "phone" varchar(40) NOT NULL, "address" varchar(200) NOT NULL, "currency" varchar(3) NOT NULL, "measures" varchar(8) NOT NULL, "time_zone" varchar(60) NOT NULL, "terms" text NOT NULL, "quote_days" smallint unsigned NOT NULL CHECK ("quote_days" >= 0), CONSTRAINT "there_is_one_studio" CHECK ("id" = 1), CONSTRAINT "a_quote_is_open_1_to_365_days" CHECK (("quote_days" >= 1 AND "quote_days" <= 365)));
INSERT INTO "studio_studio" VALUES(1,'Tern & Tide Balloons','hello@ternandtide.example','555-0142','4 Net Loft Lane, Port Alder','USD','imperial','America/New_York','The deposit holds your date. The balance is due a week before the event. Moving the date is free up to two weeks before, if we are free.',14);
CREATE TABLE "studio_submission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "digest" varchar(64) NOT NULL, "answer" varchar(300) NOT NULL, "at" datetime NOT NULL);
CREATE TABLE "studio_user" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "is_superuser" bool NOT NULL, "username" varchar(150) NOT NULL UNIQUE, "first_name" varchar(150) NOT NULL, "last_name" varchar(150) NOT NULL, "email" varchar(254) NOT NULL, "is_staff" bool NOT NULL, "is_active" bool NOT NULL, "date_joined" datetime NOT NULL, "role" varchar(5) NOT NULL, CONSTRAINT "user_role_is_known" CHECK ("role" IN ('owner', 'crew')));
INSERT INTO "studio_user" VALUES(1,'pbkdf2_sha256$1000000$PLgP69hC3boNad9avxxCj0$PyfQXTSN0SkK/Cn3XaHZ1w+qYWl6rHFkjmyHJ6yn+JI=',NULL,0,'mo','Mo','','',0,1,'2026-11-25 16:14:57.753055','owner');
INSERT INTO "studio_user" VALUES(2,'pbkdf2_sha256$1000000$E26R3Nt8N9OFvpa5RrysWG$NiMx4LD7q+62r1vqp/7bxSvsYPcHGO194KDEF2VzCtg=',NULL,0,'jan','Jan','','',0,1,'2026-11-25 16:14:58.995446','crew');
CREATE TABLE "studio_user_groups" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "studio_user_user_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" bigint NOT NULL REFERENCES "studio_user" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE UNIQUE INDEX "django_content_type_app_label_model_76bd3d3b_uniq" ON "django_content_type" ("app_label", "model");
CREATE UNIQUE INDEX "auth_group_permissions_group_id_permission_id_0cd325b0_uniq" ON "auth_group_permissions" ("group_id", "permission_id");
CREATE INDEX "auth_group_permissions_group_id_b120cbf9" ON "auth_group_permissions" ("group_id");
CREATE INDEX "auth_group_permissions_permission_id_84c5c92e" ON "auth_group_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_permission_content_type_id_codename_01ab375a_uniq" ON "auth_permission" ("content_type_id", "codename");
CREATE INDEX "auth_permission_content_type_id_2f476e4b" ON "auth_permission" ("content_type_id");
CREATE UNIQUE INDEX "studio_user_groups_user_id_group_id_893bfb84_uniq" ON "studio_user_groups" ("user_id", "group_id");
CREATE INDEX "studio_user_groups_user_id_385f0f1c" ON "studio_user_groups" ("user_id");
CREATE INDEX "studio_user_groups_group_id_d592e493" ON "studio_user_groups" ("group_id");
CREATE UNIQUE INDEX "studio_user_user_permissions_user_id_permission_id_f01a0b6b_uniq" ON "studio_user_user_permissions" ("user_id", "permission_id");
CREATE INDEX "studio_user_user_permissions_user_id_b6ca9761" ON "studio_user_user_permissions" ("user_id");
CREATE INDEX "studio_user_user_permissions_permission_id_9bfa52a1" ON "studio_user_user_permissions" ("permission_id");
CREATE INDEX "stock_movement_by_id_33b48dec" ON "stock_movement" ("by_id");
CREATE INDEX "stock_movement_item_id_0b2f1ae5" ON "stock_movement" ("item_id");
CREATE INDEX "stock_movement_order_line_id_6e027135" ON "stock_movement" ("order_line_id");
CREATE INDEX "stock_reservation_item_id_47ec7624" ON "stock_reservation" ("item_id");
CREATE INDEX "stock_order_created_by_id_cbfb317e" ON "stock_order" ("created_by_id");
CREATE INDEX "stock_order_supplier_id_49c0114e" ON "stock_order" ("supplier_id");
CREATE UNIQUE INDEX "colour_is_named_once_per_finish" ON "stock_colour" ((LOWER("name")), "finish", "form");
CREATE UNIQUE INDEX "a_balloon_is_listed_once" ON "stock_item" ("colour_id", "size") WHERE "sort" = 'latex';
CREATE UNIQUE INDEX "an_item_is_named_once" ON "stock_item" ("sort", (LOWER("name"))) WHERE NOT ("sort" = 'latex');
CREATE UNIQUE INDEX "a_barcode_is_one_items" ON "stock_item" ("barcode") WHERE NOT ("barcode" = '');
CREATE INDEX "stock_item_colour_id_4aa94916" ON "stock_item" ("colour_id");
CREATE UNIQUE INDEX "a_booking_is_promised_an_item_once_a_moment" ON "stock_reservation" ("booking", "item_id", "firm", "made_at") WHERE "closed_at" IS NULL;
CREATE INDEX "stock_lot_item_id_deb31a56" ON "stock_lot" ("item_id");
CREATE INDEX "stock_movement_lot_id_a1b00dd8" ON "stock_movement" ("lot_id");
CREATE INDEX "stock_spreadsheet_sent_by_id_a78d5166" ON "stock_spreadsheet" ("sent_by_id");
CREATE UNIQUE INDEX "one_count_goes_on_at_a_time" ON "stock_countsheet" ("is_open") WHERE "is_open";
CREATE INDEX "stock_countsheet_finished_by_id_11207260" ON "stock_countsheet" ("finished_by_id");
CREATE INDEX "stock_countsheet_started_by_id_2146af42" ON "stock_countsheet" ("started_by_id");
CREATE INDEX "stock_countline_by_id_6c82c46e" ON "stock_countline" ("by_id");
CREATE INDEX "stock_countline_item_id_4e230a28" ON "stock_countline" ("item_id");
CREATE INDEX "stock_countline_sheet_id_0d12f70d" ON "stock_countline" ("sheet_id");
CREATE TRIGGER stock_movement_no_update BEFORE UPDATE ON stock_movement BEGIN SELECT RAISE(ABORT, 'a movement is never edited and never deleted'); END;
CREATE TRIGGER stock_movement_no_delete BEFORE DELETE ON stock_movement BEGIN SELECT RAISE(ABORT, 'a movement is never edited and never deleted'); END;
CREATE INDEX "stock_offer_item_id_6b30ae7f" ON "stock_offer" ("item_id");
CREATE INDEX "stock_offer_supplier_id_752042c2" ON "stock_offer" ("supplier_id");
CREATE INDEX "stock_orderline_item_id_9af3f9a9" ON "stock_orderline" ("item_id");
CREATE INDEX "stock_orderline_order_id_72263c75" ON "stock_orderline" ("order_id");
CREATE INDEX "stock_doublerecipe_inner_id_589a27d2" ON "stock_doublerecipe" ("inner_id");
CREATE INDEX "stock_doublerecipe_looks_like_id_59acf84b" ON "stock_doublerecipe" ("looks_like_id");
CREATE INDEX "stock_doublerecipe_outer_id_c872f913" ON "stock_doublerecipe" ("outer_id");
CREATE INDEX "open_by_item_and_day" ON "stock_reservation" ("item_id", "needed_on", "quantity", "firm", "lapses_on", "closed_at") WHERE "closed_at" IS NULL;
CREATE UNIQUE INDEX "kit_is_named_once" ON "stock_kit" ((LOWER("name")));
CREATE INDEX "stock_kitpromise_came_back_by_id_2246264d" ON "stock_kitpromise" ("came_back_by_id");
CREATE INDEX "stock_kitpromise_kit_id_7eb0e551" ON "stock_kitpromise" ("kit_id");
CREATE INDEX "stock_kitpromise_made_by_id_b2c06edb" ON "stock_kitpromise" ("made_by_id");
CREATE INDEX "stock_kitpromise_taken_out_by_id_3084a272" ON "stock_kitpromise" ("taken_out_by_id");
CREATE INDEX "standing_by_kit_and_day" ON "stock_kitpromise" ("kit_id", "out_on") WHERE ("came_back_at" IS NULL AND "closed_at" IS NULL);
CREATE INDEX "kit_by_booking" ON "stock_kitpromise" ("booking");
CREATE UNIQUE INDEX "a_booking_is_promised_a_kit_once_at_a_time" ON "stock_kitpromise" ("booking", "kit_id") WHERE ("came_back_at" IS NULL AND "closed_at" IS NULL);
CREATE INDEX "stock_kitmovement_by_id_38b7b6c0" ON "stock_kitmovement" ("by_id");
CREATE INDEX "stock_kitmovement_kit_id_7b735919" ON "stock_kitmovement" ("kit_id");
CREATE INDEX "stock_kitmovement_promise_id_8ec55090" ON "stock_kitmovement" ("promise_id");
CREATE TRIGGER stock_kitmovement_no_update BEFORE UPDATE ON stock_kitmovement BEGIN SELECT RAISE(ABORT, 'a movement is never edited and never deleted'); END;
CREATE TRIGGER stock_kitmovement_no_delete BEFORE DELETE ON stock_kitmovement BEGIN SELECT RAISE(ABORT, 'a movement is never edited and never deleted'); END;
CREATE INDEX "bookings_historyentry_booking_id_d0d9a0c6" ON "bookings_historyentry" ("booking_id");
CREATE INDEX "bookings_historyentry_by_id_1e94f30c" ON "bookings_historyentry" ("by_id");
CREATE INDEX "bookings_quoteopening_quote_id_f75f7518" ON "bookings_quoteopening" ("quote_id");
CREATE INDEX "bookings_booking_created_by_id_d8a2f432" ON "bookings_booking" ("created_by_id");
CREATE INDEX "bookings_booking_client_id_4922b542" ON "bookings_booking" ("client_id");
CREATE INDEX "booking_by_stage_and_day" ON "bookings_booking" ("stage", "event_on");
CREATE INDEX "bookings_piece_booking_id_2d8edc46" ON "bookings_piece" ("booking_id");
CREATE INDEX "bookings_quote_booking_id_0688a146" ON "bookings_quote" ("booking_id");
CREATE INDEX "bookings_quote_issued_by_id_1813d546" ON "bookings_quote" ("issued_by_id");
CREATE INDEX "bookings_quotematerial_item_id_388cf55c" ON "bookings_quotematerial" ("item_id");
CREATE INDEX "bookings_quotematerial_quote_id_2795fb16" ON "bookings_quotematerial" ("quote_id");
CREATE INDEX "bookings_quotepiece_quote_id_24c0d832" ON "bookings_quotepiece" ("quote_id");
CREATE TRIGGER bookings_quote_no_update BEFORE UPDATE OF booking_id, number, version, issued_at, issued_by_id, valid_until, needed_on, currency, price_minor, tax_minor, total_minor, deposit_minor, cost_minor, person_minutes, told, reasons, changes, pdf, pdf_sha256 ON bookings_quote BEGIN SELECT RAISE(ABORT, 'an issued quote never changes'); END;
CREATE TRIGGER bookings_quote_no_delete BEFORE DELETE ON bookings_quote BEGIN SELECT RAISE(ABORT, 'an issued quote never changes'); END;
CREATE TRIGGER bookings_quotepiece_no_update BEFORE UPDATE ON bookings_quotepiece BEGIN SELECT RAISE(ABORT, 'an issued quote never changes'); END;
CREATE TRIGGER bookings_quotepiece_no_delete BEFORE DELETE ON bookings_quotepiece BEGIN SELECT RAISE(ABORT, 'an issued quote never changes'); END;
CREATE TRIGGER bookings_quotematerial_no_update BEFORE UPDATE ON bookings_quotematerial BEGIN SELECT RAISE(ABORT, 'an issued quote never changes'); END;
CREATE TRIGGER bookings_quotematerial_no_delete BEFORE DELETE ON bookings_quotematerial BEGIN SELECT RAISE(ABORT, 'an issued quote never changes'); END;
CREATE TRIGGER bookings_acceptance_no_update BEFORE UPDATE ON bookings_acceptance BEGIN SELECT RAISE(ABORT, 'an acceptance is kept as it was given'); END;
CREATE TRIGGER bookings_acceptance_no_delete BEFORE DELETE ON bookings_acceptance BEGIN SELECT RAISE(ABORT, 'an acceptance is kept as it was given'); END;
CREATE INDEX "bookings_sketch_photo_id_1fcd2bba" ON "bookings_sketch" ("photo_id");
CREATE INDEX "bookings_photo_added_by_id_3cccfa9c" ON "bookings_photo" ("added_by_id");
CREATE INDEX "bookings_photo_booking_id_0da171d0" ON "bookings_photo" ("booking_id");
CREATE TRIGGER bookings_wrapupline_no_update BEFORE UPDATE ON bookings_wrapupline BEGIN SELECT RAISE(ABORT, 'what was counted after a job is never changed'); END;
CREATE TRIGGER bookings_wrapupline_no_delete BEFORE DELETE ON bookings_wrapupline BEGIN SELECT RAISE(ABORT, 'what was counted after a job is never changed'); END;
CREATE INDEX "bookings_wrapup_by_id_6086da4f" ON "bookings_wrapup" ("by_id");
CREATE UNIQUE INDEX "a_lot_is_ticked_once_on_a_pull_list" ON "bookings_pulltick" ("booking_id", "item_id", "lot_id") WHERE ("issued_at" IS NULL AND "lot_id" IS NOT NULL);
CREATE UNIQUE INDEX "what_is_of_no_lot_is_ticked_once" ON "bookings_pulltick" ("booking_id", "item_id") WHERE ("issued_at" IS NULL AND "lot_id" IS NULL);
CREATE INDEX "bookings_pulltick_booking_id_102dd86a" ON "bookings_pulltick" ("booking_id");
CREATE INDEX "bookings_pulltick_by_id_ba53b7ff" ON "bookings_pulltick" ("by_id");
CREATE INDEX "bookings_pulltick_item_id_f5381f2c" ON "bookings_pulltick" ("item_id");
CREATE INDEX "bookings_pulltick_lot_id_3b08d0ce" ON "bookings_pulltick" ("lot_id");
CREATE INDEX "bookings_wrapupline_item_id_f69c9346" ON "bookings_wrapupline" ("item_id");
CREATE INDEX "bookings_wrapupline_wrap_up_id_a9c7ac90" ON "bookings_wrapupline" ("wrap_up_id");
CREATE UNIQUE INDEX "each_kind_is_due_once" ON "bookings_amountdue" ("booking_id", "kind") WHERE "void_at" IS NULL;
CREATE INDEX "bookings_amountdue_booking_id_42f10cfe" ON "bookings_amountdue" ("booking_id");
CREATE INDEX "bookings_amountdue_quote_id_e74ae6fa" ON "bookings_amountdue" ("quote_id");
CREATE INDEX "bookings_books_sealed_booking_id_3d51d50e" ON "bookings_books_sealed" ("booking_id");
CREATE INDEX "bookings_books_sealed_by_id_d9adc453" ON "bookings_books_sealed" ("by_id");
CREATE INDEX "bookings_books_sealed_client_id_d8dc90fc" ON "bookings_books_sealed" ("client_id");
CREATE INDEX "bookings_books_sealed_credit_move_id_b5580694" ON "bookings_books_sealed" ("credit_move_id");
CREATE INDEX "bookings_books_sealed_credit_note_id_bc5747b6" ON "bookings_books_sealed" ("credit_note_id");
CREATE INDEX "bookings_books_sealed_invoice_id_2677e309" ON "bookings_books_sealed" ("invoice_id");
CREATE INDEX "bookings_books_sealed_payment_id_2c49ef2f" ON "bookings_books_sealed" ("payment_id");
CREATE INDEX "bookings_books_sealed_refund_id_69cb2dcf" ON "bookings_books_sealed" ("refund_id");
CREATE INDEX "bookings_creditmove_booking_id_aed28fe8" ON "bookings_creditmove" ("booking_id");
CREATE INDEX "bookings_creditmove_by_id_fc494e6b" ON "bookings_creditmove" ("by_id");
CREATE INDEX "bookings_creditmove_client_id_47c1880f" ON "bookings_creditmove" ("client_id");
CREATE INDEX "bookings_invoice_booking_id_1b4956a2" ON "bookings_invoice" ("booking_id");
CREATE INDEX "bookings_invoice_client_id_27d36dfc" ON "bookings_invoice" ("client_id");
CREATE INDEX "bookings_invoice_issued_by_id_52cfe75a" ON "bookings_invoice" ("issued_by_id");
CREATE INDEX "bookings_invoice_quote_id_0552eb93" ON "bookings_invoice" ("quote_id");
CREATE INDEX "bookings_creditnote_issued_by_id_b0c29222" ON "bookings_creditnote" ("issued_by_id");
CREATE INDEX "bookings_invoiceline_invoice_id_27e01315" ON "bookings_invoiceline" ("invoice_id");
CREATE INDEX "bookings_payment_booking_id_0afdaed6" ON "bookings_payment" ("booking_id");
CREATE INDEX "bookings_payment_by_id_b8b0189f" ON "bookings_payment" ("by_id");
CREATE INDEX "bookings_payment_client_id_54945b95" ON "bookings_payment" ("client_id");
CREATE INDEX "payments_by_day" ON "bookings_payment" ("received_on");
CREATE INDEX "bookings_books_posting_entry_id_9c1cc0e0" ON "bookings_books_posting" ("entry_id");
CREATE INDEX "bookings_refund_booking_id_999010de" ON "bookings_refund" ("booking_id");
CREATE INDEX "bookings_refund_by_id_d8a43219" ON "bookings_refund" ("by_id");
CREATE INDEX "bookings_refund_client_id_5a9d6d8e" ON "bookings_refund" ("client_id");
CREATE INDEX "entries_by_day" ON "bookings_books_sealed" ("on", "number");
CREATE TRIGGER bookings_invoiceline_no_update BEFORE UPDATE ON bookings_invoiceline BEGIN SELECT RAISE(ABORT, 'an issued invoice never changes'); END;
CREATE TRIGGER bookings_invoiceline_no_delete BEFORE DELETE ON bookings_invoiceline BEGIN SELECT RAISE(ABORT, 'an issued invoice never changes'); END;
CREATE TRIGGER bookings_creditnote_no_update BEFORE UPDATE ON bookings_creditnote BEGIN SELECT RAISE(ABORT, 'an issued credit note never changes'); END;
CREATE TRIGGER bookings_creditnote_no_delete BEFORE DELETE ON bookings_creditnote BEGIN SELECT RAISE(ABORT, 'an issued credit note never changes'); END;
CREATE TRIGGER bookings_books_posting_no_update BEFORE UPDATE ON bookings_books_posting BEGIN SELECT RAISE(ABORT, 'the books are written once'); END;
CREATE TRIGGER bookings_books_posting_no_delete BEFORE DELETE ON bookings_books_posting BEGIN SELECT RAISE(ABORT, 'the books are written once'); END;
CREATE TRIGGER bookings_books_sealed_in_balance BEFORE INSERT ON bookings_books_sealed WHEN (SELECT COUNT(*) = 0 OR SUM(debit_minor) <> SUM(credit_minor) FROM bookings_books_posting WHERE entry_id = NEW.number) BEGIN SELECT RAISE(ABORT, 'debits must equal credits in every entry'); END;
CREATE TRIGGER bookings_books_posting_in_balance BEFORE INSERT ON bookings_books_posting WHEN EXISTS (SELECT 1 FROM bookings_books_sealed WHERE number = NEW.entry_id) BEGIN SELECT RAISE(ABORT, 'an entry takes no more postings once it is written'); END;
CREATE TRIGGER bookings_payment_no_update BEFORE UPDATE OF number, booking_id, currency, amount_minor, surplus_minor, left_minor, method, received_on, note, by_id, at ON bookings_payment BEGIN SELECT RAISE(ABORT, 'a payment is kept as it was written'); END;
CREATE TRIGGER bookings_payment_no_delete BEFORE DELETE ON bookings_payment BEGIN SELECT RAISE(ABORT, 'a payment is kept as it was written'); END;
CREATE TRIGGER bookings_refund_no_update BEFORE UPDATE OF booking_id, currency, from_credit_minor, from_booking_minor, method, refunded_on, note, by_id, at ON bookings_refund BEGIN SELECT RAISE(ABORT, 'a refund is kept as it was written'); END;
CREATE TRIGGER bookings_refund_no_delete BEFORE DELETE ON bookings_refund BEGIN SELECT RAISE(ABORT, 'a refund is kept as it was written'); END;
CREATE TRIGGER bookings_creditmove_no_update BEFORE UPDATE OF booking_id, kind, amount_minor, "on", by_id, at ON bookings_creditmove BEGIN SELECT RAISE(ABORT, 'credit is kept as it was written'); END;
CREATE TRIGGER bookings_creditmove_no_delete BEFORE DELETE ON bookings_creditmove BEGIN SELECT RAISE(ABORT, 'credit is kept as it was written'); END;
CREATE TRIGGER bookings_invoice_no_update BEFORE UPDATE OF number, currency, issued_on, issued_at, issued_by_id, net_minor, tax_minor, total_minor, told, pdf, pdf_sha256, booking_id, quote_id, kind, deposits_minor ON bookings_invoice BEGIN SELECT RAISE(ABORT, 'an issued invoice never changes'); END;
CREATE TRIGGER bookings_invoice_no_delete BEFORE DELETE ON bookings_invoice BEGIN SELECT RAISE(ABORT, 'an issued invoice never changes'); END;
CREATE TRIGGER bookings_books_sealed_no_update BEFORE UPDATE OF number, "on", at, by_id, what, currency, booking_id, invoice_id, credit_note_id, payment_id, refund_id, credit_move_id ON bookings_books_sealed BEGIN SELECT RAISE(ABORT, 'the books are written once'); END;
CREATE TRIGGER bookings_books_sealed_no_delete BEFORE DELETE ON bookings_books_sealed BEGIN SELECT RAISE(ABORT, 'the books are written once'); END;
CREATE INDEX "bookings_materialswap_booking_id_907c83a2" ON "bookings_materialswap" ("booking_id");
CREATE INDEX "bookings_materialswap_by_id_c4ac202e" ON "bookings_materialswap" ("by_id");
CREATE INDEX "bookings_materialswap_given_up_id_2d3b8463" ON "bookings_materialswap" ("given_up_id");
CREATE INDEX "bookings_materialswap_taken_id_8779785a" ON "bookings_materialswap" ("taken_id");
CREATE INDEX "bookings_materialswap_inside_id_4d373dfa" ON "bookings_materialswap" ("inside_id");
CREATE UNIQUE INDEX "a_favourite_is_named_once" ON "estimating_favourite" ((LOWER("name")));
CREATE INDEX "django_session_expire_date_a5c62663" ON "django_session" ("expire_date");
CREATE INDEX "attempts_by_key_and_time" ON "studio_signinattempt" ("key", "at");
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',44);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',54);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',216);
INSERT INTO "sqlite_sequence" VALUES('auth_group',0);
INSERT INTO "sqlite_sequence" VALUES('stock_movement',69);
INSERT INTO "sqlite_sequence" VALUES('stock_reservation',94);
INSERT INTO "sqlite_sequence" VALUES('stock_order',1);
INSERT INTO "sqlite_sequence" VALUES('stock_colour',12);
INSERT INTO "sqlite_sequence" VALUES('stock_supplier',2);
INSERT INTO "sqlite_sequence" VALUES('stock_item',51);
INSERT INTO "sqlite_sequence" VALUES('stock_lot',1);
INSERT INTO "sqlite_sequence" VALUES('stock_shelfrules',0);
INSERT INTO "sqlite_sequence" VALUES('stock_spreadsheet',0);
INSERT INTO "sqlite_sequence" VALUES('stock_countsheet',1);
INSERT INTO "sqlite_sequence" VALUES('stock_countline',2);
INSERT INTO "sqlite_sequence" VALUES('stock_offer',75);
INSERT INTO "sqlite_sequence" VALUES('stock_orderline',1);
INSERT INTO "sqlite_sequence" VALUES('stock_kitpromise',7);
INSERT INTO "sqlite_sequence" VALUES('stock_kitmovement',5);
INSERT INTO "sqlite_sequence" VALUES('bookings_client',5);
INSERT INTO "sqlite_sequence" VALUES('bookings_historyentry',29);
INSERT INTO "sqlite_sequence" VALUES('bookings_acceptance',3);
INSERT INTO "sqlite_sequence" VALUES('bookings_quoteopening',3);
INSERT INTO "sqlite_sequence" VALUES('bookings_booking',5);
INSERT INTO "sqlite_sequence" VALUES('bookings_piece',7);
INSERT INTO "sqlite_sequence" VALUES('bookings_quote',4);
INSERT INTO "sqlite_sequence" VALUES('bookings_quotematerial',56);
INSERT INTO "sqlite_sequence" VALUES('bookings_quotepiece',7);
INSERT INTO "sqlite_sequence" VALUES('bookings_photo',0);
INSERT INTO "sqlite_sequence" VALUES('bookings_amountdue',6);
INSERT INTO "sqlite_sequence" VALUES('bookings_creditmove',0);
INSERT INTO "sqlite_sequence" VALUES('bookings_invoice',0);
INSERT INTO "sqlite_sequence" VALUES('bookings_creditnote',0);
INSERT INTO "sqlite_sequence" VALUES('bookings_invoiceline',0);
INSERT INTO "sqlite_sequence" VALUES('bookings_payment',1);
INSERT INTO "sqlite_sequence" VALUES('bookings_books_posting',2);
INSERT INTO "sqlite_sequence" VALUES('bookings_refund',0);
INSERT INTO "sqlite_sequence" VALUES('bookings_materialswap',0);
INSERT INTO "sqlite_sequence" VALUES('estimating_rates',1);
INSERT INTO "sqlite_sequence" VALUES('studio_studio',1);
INSERT INTO "sqlite_sequence" VALUES('studio_user',2);
INSERT INTO "sqlite_sequence" VALUES('estimating_inflateddiameter',2);
INSERT INTO "sqlite_sequence" VALUES('stock_doublerecipe',1);
INSERT INTO "sqlite_sequence" VALUES('stock_kit',5);
INSERT INTO "sqlite_sequence" VALUES('bookings_pulltick',9);
INSERT INTO "sqlite_sequence" VALUES('bookings_wrapup',1);
INSERT INTO "sqlite_sequence" VALUES('bookings_wrapupline',9);
COMMIT;
