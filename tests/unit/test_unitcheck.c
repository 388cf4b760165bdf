/* Safety of a playbook known before its first question: one spoiled thing a row, and the sentence it earns. */
#include "unit_fixture.h"

static void test_clean(void **state)
{
	(void)state;
	fixture f;
	hs_problems problems;
	make_fixture(&f);
	check(&f, &problems);
	for (size_t i = 0; i < problems.count; i++)
		print_error("%s\n", problems.items[i].what.message);
	assert_int_equal(problems.count, 0);
	hs_problems_free(&problems);
}

/* ---- what spoils it ---- */

static void ohms_on(fixture *f)
{
	f->reading.reads = HS_READS_OHMS;
	f->reading.hookup = NULL;
}

static void diode_off(fixture *f)
{
	ohms_on(f);
	f->reading.reads = HS_READS_DIODE;
	f->step.power = HS_NEED_OFF;
}

static void ohms_attached(fixture *f)
{
	ohms_on(f);
	f->step.attach_dead = true;
}

static void hands(fixture *f, hs_step_kind kind, hs_need power)
{
	f->step.kind = kind;
	f->step.power = power;
	f->step.zone = ZONE_PSU;
	f->step.open = 1u << PSU_GUARD;
	f->step.reading_count = 0;
	f->step.inject.given = false;
}

static void do_on(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_ON);
}

static void replace_standby(fixture *f)
{
	hands(f, HS_STEP_REPLACE, HS_NEED_STANDBY);
}

static void adjust_on(fixture *f)
{
	hands(f, HS_STEP_ADJUST, HS_NEED_ON);
}

static void change_on(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_ON);
	f->step.zone = -1;
	f->step.makes = 1u << LINK_1;
}

/* Hands in the low zone, with the supply laid bare beside them. */
static void beside_on(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_ON);
	f->step.zone = ZONE_LOW;
}

/* A tap behind the supply's guard, set by the step or by its reading. */
static void tap_inside(fixture *f)
{
	static const char *const taps[] = {"110 V", "230 V"};
	f->book.unit.controls[0] = (hs_control){.id = "tap", .positions = taps, .position_count = 2, .zone = ZONE_PSU};
	f->book.unit.control_count = 1;
}

static void tap_of_step(fixture *f)
{
	tap_inside(f);
	f->step.set[0] = 2;
}

static void tap_of_reading(fixture *f)
{
	tap_inside(f);
	f->reading.set[0] = 1;
}

static void tap_open(fixture *f)
{
	tap_of_step(f);
	f->step.open = 1u << PSU_GUARD;
	f->step.attach_dead = true;
}

static void guard_shut(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_DEAD);
	f->step.open = 1u << TOP_COVER;
}

static void guard_shut_replace(fixture *f)
{
	guard_shut(f);
	f->step.kind = HS_STEP_REPLACE;
}

/* No hazard, but a guard all the same. */
static void guard_shut_low(fixture *f)
{
	hands(f, HS_STEP_ADJUST, HS_NEED_ON);
	f->step.zone = ZONE_LOW;
	f->step.open = 0;
	f->book.unit.zones[ZONE_LOW].guard = RF_SHIELD;
}

static void change_shut(fixture *f)
{
	guard_shut(f);
	f->step.zone = -1;
	f->step.makes = 1u << LINK_1;
}

static void undone_unmade(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_DEAD);
	f->step.undoes = 1u << LINK_1;
}

static void unshort_by_hand(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_DEAD);
	f->step.unshort = 1u << C7;
}

static void live_beside(fixture *f)
{
	f->reading =
	    (hs_reading){.reads = HS_READS_VOLTS, .point = TP1, .hookup_name = "probe", .where = at_line(LINE_READING)};
	f->step.open = 1u << PSU_GUARD;
}

static void live_point(fixture *f)
{
	f->reading =
	    (hs_reading){.reads = HS_READS_VOLTS, .point = TP7, .hookup_name = "probe", .where = at_line(LINE_READING)};
	f->step.open = 1u << TOP_COVER | 1u << PSU_GUARD;
}

/* The second probe reaches into the live zone. */
static void live_against(fixture *f)
{
	live_point(f);
	f->reading.point = -1;
	f->reading.at_text = "chassis";
	f->reading.against = "TP7";
}

static void live_look(fixture *f)
{
	f->step.kind = HS_STEP_LOOK;
	f->step.reading_count = 0;
	f->step.inject.given = false;
	f->step.zone = ZONE_PSU;
	f->step.zone_given = true;
	f->step.open = 1u << TOP_COVER | 1u << PSU_GUARD;
}

static void loose_at_point(fixture *f)
{
	f->reading.reads = HS_READS_OHMS;
	f->reading.loose = true;
	f->step.power = HS_NEED_OFF;
	f->step.inject.given = false;
}

static void live_by_hand(fixture *f)
{
	live_point(f);
	f->step.live = true;
	f->step.live_why = "only there";
}

static void live_ohms(fixture *f)
{
	live_by_hand(f);
	f->reading.reads = HS_READS_OHMS;
	f->step.power_given = false;
}

static void live_joined(fixture *f)
{
	live_by_hand(f);
	f->reading.hookup = &f->meter;
}

static void live_blank(fixture *f)
{
	live_by_hand(f);
	f->step.live_why = " ";
}

static void live_elsewhere(fixture *f)
{
	f->reading.hookup = &f->probe;
	f->step.live = true;
	f->step.live_why = "only there";
}

static void live_with_attach(fixture *f)
{
	live_by_hand(f);
	f->step.attach_dead = true;
}

static void live_and_off(fixture *f)
{
	live_by_hand(f);
	f->step.power = HS_NEED_OFF;
}

static void live_turning(fixture *f)
{
	live_by_hand(f);
	f->step.kind = HS_STEP_ADJUST;
	f->step.outside = true;
}

static void live_off(fixture *f)
{
	live_point(f);
	f->step.power = HS_NEED_OFF;
}

static void live_undeclared(fixture *f)
{
	live_point(f);
	f->reading.point = -1;
	f->reading.at_text = "R14";
	f->step.zone = ZONE_EHT;
}

static void live_injection(fixture *f)
{
	f->step.inject.point = TP7;
	f->points[TP7].has_accepts = true;
	f->points[TP7].accepts = (hs_quantity){20, HS_DBM};
	f->step.open = 1u << TOP_COVER | 1u << PSU_GUARD;
}

static void power_unsaid(fixture *f)
{
	f->step.power_given = false;
	f->step.power = HS_NEED_ANY;
}

static void sinad_unsaid(fixture *f)
{
	power_unsaid(f);
	f->reading.reads = HS_READS_SINAD;
}

static void keyed_no_emitter(fixture *f)
{
	f->step.power = HS_NEED_KEYED;
	f->reading.hookup = NULL;
	f->book.unit.emitter_count = 0;
}

static void keyed_nothing(fixture *f)
{
	f->step.power = HS_NEED_KEYED;
	f->reading.hookup = NULL;
}

static void keyed_no_load(fixture *f)
{
	keyed_nothing(f);
	f->step.emitter = 0;
}

static void keyed_small_load(fixture *f)
{
	keyed_no_load(f);
	f->step.load = "50 ohm";
	f->step.load_watts = 30;
}

static void keyed_short_load(fixture *f)
{
	keyed_small_load(f);
	f->step.load_watts = 50;
	f->step.load_seconds = 3;
}

static void cover_after_itself(fixture *f)
{
	f->book.unit.openables[RF_SHIELD].after = RF_SHIELD;
}

static void cover_circle(fixture *f)
{
	f->book.unit.openables[TOP_COVER].after = RF_SHIELD;
}

static void cover_nowhere(fixture *f)
{
	f->book.unit.openables[RF_SHIELD].after = 17;
}

static void shut_point(fixture *f)
{
	f->reading.point = TP1;
	f->reading.hookup = NULL;
}

static void no_standby(fixture *f)
{
	f->book.unit.has_standby = false;
	f->step.power = HS_NEED_STANDBY;
}

static void cover_no_standby(fixture *f)
{
	f->book.unit.has_standby = false;
	f->book.unit.openables[RF_SHIELD].needs = HS_NEED_STANDBY;
	f->book.unit.openables[RF_SHIELD].needs_given = true;
}

static void untestable(fixture *f)
{
	ohms_on(f);
	f->step.power = HS_NEED_DEAD;
	f->step.zone = 3;
	f->book.unit.zones[3] = (hs_zone){.id = "front", .guard = -1};
	f->book.unit.zone_count = 4;
}

static void cover_untestable(fixture *f)
{
	f->book.unit.zones[3] = (hs_zone){.id = "front", .guard = -1};
	f->book.unit.zone_count = 4;
	f->book.unit.openables[LINK_1].zone = 3;
	f->book.unit.openables[LINK_1].needs = HS_NEED_DEAD;
	f->book.unit.openables[LINK_1].needs_given = true;
}

static void no_supply(fixture *f)
{
	f->book.unit.sources[MAINS].kind = f->book.unit.sources[BATTERY].kind = HS_SOURCE_RAIL;
}

static void no_supply_symptom(fixture *f)
{
	no_supply(f);
	f->step.power = HS_NEED_ANY;
	f->book.symptom = (hs_symptom){.given = true, .power = HS_NEED_ON, .where = at_line(5)};
}

static void symptom_keyed(fixture *f)
{
	f->book.unit.emitter_count = 0;
	f->book.symptom = (hs_symptom){.given = true, .power = HS_NEED_KEYED, .where = at_line(5)};
}

static void store_no_farads(fixture *f)
{
	f->book.unit.sources[C7].farads = 0;
}

static void store_nothing(fixture *f)
{
	f->book.unit.sources[C7].farads = 0;
	f->book.unit.sources[C7].volts = 0;
}

static void supply_no_volts(fixture *f)
{
	f->book.unit.sources[MAINS].volts = 0;
}

static void names_too_much(fixture *f)
{
	f->step.open = 1u << 9;
}

static void names_no_zone(fixture *f)
{
	f->step.zone = 6;
}

static void shared_name(fixture *f)
{
	f->book.unit.openables[RF_SHIELD].id = "mains";
}

static void taken_name(fixture *f)
{
	f->book.unit.openables[RF_SHIELD].id = "tools";
}

static void point_undeclared(fixture *f)
{
	f->points[TP1].dc_v = -400;
	f->points[TP1].where = (hs_where){"amp.lua", LINE_READING};
}

static void volts_undeclared(fixture *f)
{
	f->reading.reads = HS_READS_VOLTS;
	f->reading.hookup = NULL;
	f->reading.point = TP1;
	f->step.open = 1u << TOP_COVER;
	f->reading.has_limits = true;
	f->reading.limits = (hs_limits){.has_low = true, .low = 380, .unit = HS_VOLT};
}

static void test_spoiled(void **state)
{
	(void)state;
	static const spoiled rows[] = {
	    {point_undeclared, HS_ERROR, LINE_READING,
	     "the point \"TP1\" is at 400 V, and the unit declares nothing in that zone that is above extra-low voltage",
	     "declare where it comes from, as in rails = { HT = \"400 V\" }: without that no gate asks about it"},
	    {volts_undeclared, HS_ERROR, LINE_READING,
	     "the reading of \"s1\" is at 380 V, and the unit declares nothing in that zone that is above extra-low voltage",
	     "declare where it comes from, as in rails = { HT = \"380 V\" }: without that no gate asks about it"},
	    {loose_at_point, HS_ERROR, LINE_READING, "step \"s1\" calls its reading loose, and \"J2\" is a point of the unit",
	     "name the part that lies on the mat, or leave out loose and read it dead"},
	    {live_against, HS_ERROR, LINE_READING,
	     "step \"s1\" reads inside the zone \"psu\" with power \"on\", by a hookup not attached while proved dead",
	     "add attach = \"dead\" so that it is joined before power comes, or read it dead; what is dangerous there: mains at amp.lua:10, C7 at amp.lua:12"},
	    {live_look, HS_ERROR, LINE_STEP, "the look step \"s1\" has hands inside the zone \"psu\" with power \"on\"",
	     "say power = \"dead\""},
	    {ohms_on, HS_ERROR, LINE_READING,
	     "step \"s1\" reads ohms in the unit with power \"on\", which is only ever read proved dead",
	     "say power = \"dead\", or loose = true when it is read on a removed part or a loose lead"},
	    {diode_off, HS_ERROR, LINE_READING,
	     "step \"s1\" reads diode in the unit with power \"off\", which is only ever read proved dead",
	     "say power = \"dead\", or loose = true when it is read on a removed part or a loose lead"},
	    {ohms_attached, HS_ERROR, LINE_READING,
	     "step \"s1\" reads ohms in the unit with power \"on\", which is only ever read proved dead",
	     "say power = \"dead\", or loose = true when it is read on a removed part or a loose lead"},
	    {do_on, HS_ERROR, LINE_STEP, "the act step \"s1\" has hands inside the zone \"psu\" with power \"on\"",
	     "say power = \"dead\""},
	    {replace_standby, HS_ERROR, LINE_STEP,
	     "the replace step \"s1\" has hands inside the zone \"psu\" with power \"standby\"",
	     "say power = \"dead\""},
	    {adjust_on, HS_ERROR, LINE_STEP,
	     "the adjust step \"s1\" has hands inside the zone \"psu\" with power \"on\"",
	     "say power = \"dead\", or outside = true when it is done from outside the guard"},
	    {change_on, HS_ERROR, LINE_STEP, "the act step \"s1\" has hands inside the zone \"psu\" with power \"on\"",
	     "say power = \"dead\""},
	    {beside_on, HS_ERROR, LINE_STEP, "the act step \"s1\" has hands inside the zone \"psu\" with power \"on\"",
	     "say power = \"dead\""},
	    {tap_of_step, HS_ERROR, LINE_STEP, "step \"s1\" sets \"tap\", which is in the zone \"psu\", and its guard \"psu-guard\" is not open",
	     "add \"psu-guard\" to open: the hand that turns it goes behind that guard"},
	    {tap_of_reading, HS_ERROR, LINE_READING,
	     "step \"s1\" sets \"tap\", which is in the zone \"psu\", and its guard \"psu-guard\" is not open",
	     "add \"psu-guard\" to open: the hand that turns it goes behind that guard"},
	    {guard_shut, HS_ERROR, LINE_STEP,
	     "the act step \"s1\" has hands in the zone \"psu\", and its guard \"psu-guard\" is not open",
	     "add \"psu-guard\" to open, or outside = true when it is done from outside the guard"},
	    {guard_shut_replace, HS_ERROR, LINE_STEP,
	     "the replace step \"s1\" has hands in the zone \"psu\", and its guard \"psu-guard\" is not open",
	     "add \"psu-guard\" to open, or outside = true when it is done from outside the guard"},
	    {guard_shut_low, HS_ERROR, LINE_STEP,
	     "the adjust step \"s1\" has hands in the zone \"inside\", and its guard \"rf-shield\" is not open",
	     "add \"rf-shield\" to open, or outside = true when it is done from outside the guard"},
	    {change_shut, HS_ERROR, LINE_STEP,
	     "the act step \"s1\" has hands in the zone \"psu\", and its guard \"psu-guard\" is not open",
	     "add \"psu-guard\" to open, or outside = true when it is done from outside the guard"},
	    {undone_unmade, HS_WARNING, LINE_STEP, "step \"s1\" undoes \"LK1\", which no step makes",
	     "the step that does it says makes = { \"LK1\" }"},
	    {unshort_by_hand, HS_ERROR, LINE_STEP, "the act step \"s1\" takes the short off \"C7\", and reads nothing",
	     "leave out unshort; only a read or collect step has a store without its short"},
	    {live_beside, HS_ERROR, LINE_READING,
	     "step \"s1\" reads beside the open guard of the zone \"psu\" with power \"on\", by a hookup not attached "
	     "while proved dead",
	     "add attach = \"dead\" so that it is joined before power comes, or read it dead; what is dangerous there: mains at amp.lua:10, C7 at amp.lua:12"},
	    {live_point, HS_ERROR, LINE_READING,
	     "step \"s1\" reads inside the zone \"psu\" with power \"on\", by a hookup not attached while proved dead",
	     "add attach = \"dead\" so that it is joined before power comes, or read it dead; what is dangerous there: mains at amp.lua:10, C7 at amp.lua:12"},
	    {live_ohms, HS_ERROR, LINE_READING, "step \"s1\" says live, and reads ohms, which is never read live",
	     "leave out live: it is read proved dead, which separates the same suspects"},
	    {live_joined, HS_ERROR, LINE_READING, "step \"s1\" reads live with \"meter lead\", which is joined and does not only touch",
	     "take a probe or test leads, or add attach = \"dead\" and leave out live"},
	    {live_blank, HS_ERROR, LINE_STEP, "step \"s1\" says live, and not why it cannot be read dead",
	     "say it in words: live = \"it fails only under load\""},
	    {live_elsewhere, HS_ERROR, LINE_STEP, "step \"s1\" says live, and reads nothing where it is dangerous", "leave out live"},
	    {live_with_attach, HS_ERROR, LINE_STEP, "step \"s1\" says live and attach = \"dead\"",
	     "a hookup attached while proved dead needs no hand at the live unit: leave out live"},
	    {live_and_off, HS_ERROR, LINE_STEP, "step \"s1\" says live, and not power = \"on\" or \"standby\"", "say in which of the two it is read"},
	    {live_turning, HS_ERROR, LINE_STEP, "step \"s1\" says live, and more than reads",
	     "only a read or collect step is ever done live; leave out live"},
	    {live_off, HS_ERROR, LINE_READING,
	     "step \"s1\" reads inside the zone \"psu\" with power \"off\", by a hookup not attached while proved dead",
	     "add attach = \"dead\" so that it is joined before power comes, or read it dead; what is dangerous there: mains at amp.lua:10, C7 at amp.lua:12"},
	    {live_undeclared, HS_ERROR, LINE_READING,
	     "step \"s1\" reads inside the zone \"eht\" with power \"on\", by a hookup not attached while proved dead",
	     "add attach = \"dead\" so that it is joined before power comes, or read it dead; what is dangerous there: C20 at amp.lua:14"},
	    {live_injection, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects inside the zone \"psu\" with power \"on\", by a hookup not attached while proved "
	     "dead",
	     "add attach = \"dead\" so that it is joined before power comes, or read it dead; what is dangerous there: mains at amp.lua:10, C7 at amp.lua:12"},
	    {power_unsaid, HS_ERROR, LINE_STEP, "step \"s1\" reads power and does not say in which power state",
	     "say power = \"on\", or whichever state it is read in"},
	    {sinad_unsaid, HS_ERROR, LINE_STEP, "step \"s1\" reads sinad and does not say in which power state",
	     "say power = \"on\", or whichever state it is read in"},
	    {keyed_no_emitter, HS_ERROR, LINE_STEP, "step \"s1\" keys the unit, and nothing says what emits",
	     "declare what the unit emits: emits = { J2 = { rf = \"50 W\" } }"},
	    {keyed_nothing, HS_ERROR, LINE_STEP, "step \"s1\" keys J2 without a load",
	     "name the load: load = { \"50 ohm\", at = \"J2\", rated = \"100 W\" }"},
	    {keyed_no_load, HS_ERROR, LINE_STEP, "step \"s1\" keys J2 without a load",
	     "name the load: load = { \"50 ohm\", at = \"J2\", rated = \"100 W\" }"},
	    {keyed_small_load, HS_ERROR, LINE_STEP, "step \"s1\" keys J2 into a load rated 30 W, and it emits 50 W",
	     "name a load rated for at least 50 W"},
	    {keyed_short_load, HS_ERROR, LINE_STEP, "step \"s1\" may key J2 for 5 s, and its load stands it for 3 s",
	     "shorten the key time, or name a load that stands it"},
	    {cover_after_itself, HS_ERROR, LINE_OPENABLE + RF_SHIELD,
	     "\"rf-shield\" comes off only after itself, so it never does",
	     "name what comes off before it, or leave out after"},
	    {cover_circle, HS_ERROR, LINE_OPENABLE + TOP_COVER,
	     "\"top-cover\" comes off after \"rf-shield\", which in the end waits for \"top-cover\" itself, so neither "
	     "ever "
	     "does",
	     "let one of them come off first"},
	    {cover_nowhere, HS_ERROR, LINE_OPENABLE + RF_SHIELD,
	     "\"rf-shield\" comes off after something the unit does not declare",
	     "declare what comes off first, or leave out after"},
	    {shut_point, HS_ERROR, LINE_READING,
	     "step \"s1\" goes to TP1, which is behind \"top-cover\", and does not open it",
	     "add \"top-cover\" to open"},
	    {no_standby, HS_ERROR, LINE_STEP, "step \"s1\" wants standby, and this unit has no standby",
	     "say on, or declare standby = true for the unit"},
	    {cover_no_standby, HS_ERROR, LINE_OPENABLE + RF_SHIELD,
	     "cover \"rf-shield\" wants standby, and this unit has no standby",
	     "say on, or declare standby = true for the unit"},
	    {untestable, HS_ERROR, LINE_STEP,
	     "step \"s1\" wants the zone \"front\" proved dead, and nothing in it could be tested",
	     "declare the supply, rail or store of that zone that a tester can be put on"},
	    {cover_untestable, HS_ERROR, LINE_OPENABLE + LINK_1,
	     "link \"LK1\" wants the zone \"front\" proved dead, and nothing in it could be tested",
	     "declare the supply, rail or store of that zone that a tester can be put on"},
	    {no_supply, HS_ERROR, LINE_STEP, "step \"s1\" wants power \"on\", and the unit declares no supply",
	     "declare where power comes from: supply = { mains = \"230 V\" }"},
	    {no_supply_symptom, HS_ERROR, 5, "the symptom wants power \"on\", and the unit declares no supply",
	     "declare where power comes from: supply = { mains = \"230 V\" }"},
	    {symptom_keyed, HS_ERROR, 5, "the symptom is shown keyed, and nothing says what emits",
	     "declare what the unit emits: emits = { J2 = { rf = \"50 W\" } }"},
	    {store_no_farads, HS_ERROR, LINE_SOURCE + C7,
	     "the store \"C7\" states no farads, so nobody can say what it holds",
	     "state both, at the most it can be: charged = \"400 V\", farads = \"100 uF\""},
	    {store_nothing, HS_ERROR, LINE_SOURCE + C7,
	     "the store \"C7\" states no volts and no farads, so nobody can say what it holds",
	     "state both, at the most it can be: charged = \"400 V\", farads = \"100 uF\""},
	    {supply_no_volts, HS_ERROR, LINE_SOURCE + MAINS,
	     "the supply \"mains\" states no volts, so nobody can say what it gives",
	     "state its nominal volts, such as \"230 V\""},
	    {names_too_much, HS_ERROR, LINE_STEP, "step \"s1\" names more covers or changes than the unit declares",
	     "declare them; a unit has at most 64 covers and changes, and 8 zones"},
	    {names_no_zone, HS_ERROR, LINE_STEP, "step \"s1\" names more zones than the unit declares",
	     "declare them; a unit has at most 64 covers and changes, and 8 zones"},
	    {shared_name, HS_ERROR, LINE_SOURCE + MAINS,
	     "two different confirmations would both be called \"gate/energise/mains\"",
	     "give this one an id of its own; tools, people and other are taken"},
	    {taken_name, HS_ERROR, LINE_OPENABLE + RF_SHIELD,
	     "two different confirmations would both be called \"gate/energise/tools\"",
	     "give this one an id of its own; tools, people and other are taken"},
	};
	run_spoiled(rows, sizeof rows / sizeof *rows);
}

/* ---- what is close to the edge and still good ---- */

static void loose_ohms(fixture *f)
{
	ohms_on(f);
	f->reading.loose = true;
	f->reading.point = -1;
}

static void ohms_dead(fixture *f)
{
	ohms_on(f);
	f->step.power = HS_NEED_DEAD;
}

static void ohms_unsaid(fixture *f)
{
	ohms_on(f);
	f->step.power_given = false;
	f->step.power = HS_NEED_ANY;
}

static void do_dead(fixture *f)
{
	hands(f, HS_STEP_DO, HS_NEED_DEAD);
}

static void adjust_outside(fixture *f)
{
	adjust_on(f);
	f->step.outside = true;
}

static void do_low_zone(fixture *f)
{
	do_on(f);
	f->step.zone = ZONE_LOW;
	f->step.open = 0;
}

/* The guard comes off before what is named, and so counts as open. */
static void guard_before(fixture *f)
{
	do_dead(f);
	f->book.unit.openables[RF_SHIELD].after = PSU_GUARD;
	f->step.open = 1u << RF_SHIELD;
}

static void do_outside(fixture *f)
{
	do_dead(f);
	f->step.open = 0;
	f->step.outside = true;
}

static void unshort_read(fixture *f)
{
	ohms_dead(f);
	f->step.unshort = 1u << C7;
}

static void beside_attached(fixture *f)
{
	live_beside(f);
	f->step.attach_dead = true;
}

static void live_attached(fixture *f)
{
	live_point(f);
	f->step.attach_dead = true;
}

static void live_by_eye(fixture *f)
{
	live_point(f);
	f->reading.hookup_name = NULL;
}

static void keyed_well(fixture *f)
{
	keyed_short_load(f);
	f->step.load_seconds = 5;
}

static void keyed_shorter(fixture *f)
{
	keyed_short_load(f);
	f->step.key_seconds = 3; /* what the unit would stand does not count */
}

static void shield_dead(fixture *f)
{
	ohms_dead(f);
	f->reading.point = TP1;
	f->step.open = 1u << RF_SHIELD; /* the top cover comes off first, so the point is reached */
}

static void shield_powered(fixture *f)
{
	shut_point(f);
	f->step.open = 1u << RF_SHIELD; /* the top cover comes off for it, and so counts as named */
}

static void test_good(void **state)
{
	(void)state;
	static void (*const good[])(fixture * f) = {live_by_hand, tap_open,    loose_ohms,     ohms_dead,    ohms_unsaid,    do_dead,
	                                            adjust_outside, do_low_zone,  live_attached,  live_by_eye,
	                                            keyed_shorter, keyed_well,     shield_dead,  shield_powered, guard_before,
	                                            do_outside,     unshort_read, beside_attached};
	run_good(good, sizeof good / sizeof *good);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_clean),
	    cmocka_unit_test(test_spoiled),
	    cmocka_unit_test(test_good),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
