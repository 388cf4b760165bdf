/* The table of dangers: what is asked of each kind, when, how the answer is judged, and how long it holds. */
#include "danger.h"

#define WORD(...) HS_GATE_WORD, HS_UNITLESS, {__VA_ARGS__}
#define VALUE(unit) HS_GATE_VALUE, unit, {0}
#define WHO HS_GATE_WHO, HS_UNITLESS, {0}
#define TEXT HS_GATE_TEXT, HS_UNITLESS, {0}
#define NAME HS_GATE_NAME, HS_UNITLESS, {0}
#define ALWAYS HS_ONLY_ALWAYS, 0
#define HAS(flag) HS_ONLY_FLAG, flag
#define ONLY(only) only, 0
#define NO_RULE HS_RULE_NONE, HS_LIMIT_NONE
#define RULE(rule) rule, HS_LIMIT_NONE

static const char chassis_danger[] = "A chassis that nobody measured may stand at the full line voltage: an earthed clip on it is a short through your bench.";
static const char tubes_danger[] = "High voltage jumps to whoever comes near, and glass and tube keep a charge for days.";
static const char cells_danger[] = "A damaged lithium cell burns without warning, and nothing on a bench puts it out.";
static const char battery_danger[] = "A battery has no switch: what bridges its terminals melts, and its gas explodes.";
static const char toxic_danger[] = "Dust or vapour of it harms for life: it is never cut, ground, scraped, filed or sanded.";
static const char laser_danger[] = "A beam that nobody sees burns the eye: never look into a fibre or an aperture with the source on.";
static const char vapour_danger[] = "Its vapour catches fire at the smallest spark: a powered unit is never sprayed.";
static const char static_danger[] = "A strap that was not checked protects nothing; beside dangerous voltage it ties you to earth and kills.";
static const char handling_danger[] = "What is heavy, hot, sharp or tips over hurts whoever is alone or in a hurry.";

static const hs_danger_row rows[] = {
    {HS_DANGER_CHASSIS, "clips", HS_MOMENT_UP, ONLY(HS_ONLY_UNREFERENCED), WORD("off"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "The chassis of the unit (%s) counts as live. Is every earthed lead, clip and probe off it, so that nothing joins it to earth?", chassis_danger},
    {HS_DANGER_CHASSIS, "ac", HS_MOMENT_MEASURE, ALWAYS, VALUE(HS_VOLT), HS_RULE_CHASSIS, HS_LIMIT_AC, HS_KEEPS_PLUG, false, -1,
     "Measure %s against earth, alternating voltage, with rated probes and one hand; clip nothing on before.", chassis_danger},
    {HS_DANGER_CHASSIS, "dc", HS_MOMENT_MEASURE, ALWAYS, VALUE(HS_VOLT), HS_RULE_CHASSIS, HS_LIMIT_DC, HS_KEEPS_PLUG, false, -1,
     "Measure %s against earth once more, direct voltage.", chassis_danger},
    {HS_DANGER_CHASSIS, "probe", HS_MOMENT_CLIP, ALWAYS, WORD("differential", "isolated", "earthed"), RULE(HS_RULE_PROBE), HS_KEEPS_STEP, false, -1,
     "Which probe goes on the unit (%s): a differential one, an isolated instrument with its own leads, or one whose clip is earthed?", chassis_danger},
    {HS_DANGER_CHASSIS, "rating", HS_MOMENT_CLIP, ALWAYS, VALUE(HS_VOLT), HS_RULE_AT_LEAST, HS_LIMIT_PEAK, HS_KEEPS_STEP, false, -1,
     "Which peak voltage to earth is that probe rated for? Read it off the probe and its leads (%s).", chassis_danger},

    {HS_DANGER_TUBES, "drive", HS_MOMENT_DOWN, ALWAYS, WORD("off"), NO_RULE, HS_KEEPS_POWER, false, -1, "Take the drive off (%s).", tubes_danger},
    {HS_DANGER_TUBES, "hv", HS_MOMENT_DOWN, ALWAYS, WORD("off"), NO_RULE, HS_KEEPS_POWER, true, -1,
     "Switch the high voltage off (%s), and see its meter fall.", tubes_danger},
    {HS_DANGER_TUBES, "run-on", HS_MOMENT_DOWN, HAS(HS_DANGER_BLOWER), WORD("run"), NO_RULE, HS_KEEPS_POWER, false, HS_DANGER_RUN_ON,
     "Let heater and blower run on (%s) until the time is over.", tubes_danger},
    {HS_DANGER_TUBES, "guard", HS_MOMENT_HANDS, HAS(HS_DANGER_IMPLOSION), WORD("on"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Put a face shield on, and see that the implosion guard stays on %s: glass under vacuum throws splinters.", tubes_danger},
    {HS_DANGER_TUBES, "stick", HS_MOMENT_HANDS, ONLY(HS_ONLY_DEAD), WORD("earthed"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Clip the earthing stick to earth first, at its far end, and tug at it (%s).", tubes_danger},
    {HS_DANGER_TUBES, "hook", HS_MOMENT_HANDS, ONLY(HS_ONLY_DEAD), WORD("on"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Touch the high-voltage terminal of %s with the stick, hang it there, and leave it on. A crowbar that fired proves nothing.", tubes_danger},
    {HS_DANGER_TUBES, "unhook", HS_MOMENT_UNHOOK, ONLY(HS_ONLY_HOOKED), WORD("removed"), NO_RULE, HS_KEEPS_STEP, false, -1,
     "Take the earthing stick off %s, its earthed end last, and keep hands out from here on.", tubes_danger},
    {HS_DANGER_TUBES, "shields", HS_MOMENT_UP | HS_MOMENT_HOT, HAS(HS_DANGER_XRAY), WORD("on"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "Are all X-ray shields of %s in place? It is not powered without one of them.", tubes_danger},
    {HS_DANGER_TUBES, "whose", HS_MOMENT_UP | HS_MOMENT_HOT, ONLY(HS_ONLY_INTERLOCK), WHO, NO_RULE, HS_KEEPS_WORK, false, -1,
     "An interlock of the unit (%s) is defeated. By whose decision?", tubes_danger},
    {HS_DANGER_TUBES, "until", HS_MOMENT_UP | HS_MOMENT_HOT, ONLY(HS_ONLY_INTERLOCK), TEXT, NO_RULE, HS_KEEPS_WORK, false, -1,
     "Until when does that interlock stay defeated (%s)? A time, or after which step.", tubes_danger},
    {HS_DANGER_TUBES, "second", HS_MOMENT_UP | HS_MOMENT_HOT, ONLY(HS_ONLY_ATTENDED), WHO, RULE(HS_RULE_ANOTHER), HS_KEEPS_WORK, false, -1,
     "High voltage with something open (%s) is never left alone: a second person stays in sight, and types their own name.", tubes_danger},
    {HS_DANGER_TUBES, "air", HS_MOMENT_HOT, HAS(HS_DANGER_BLOWER), WORD("flowing"), NO_RULE, HS_KEEPS_POWER, false, -1,
     "Does the cooling air flow (%s)? Feel or see it; a running motor alone is not air.", tubes_danger},
    {HS_DANGER_TUBES, "heater", HS_MOMENT_HOT, ALWAYS, WORD("warm"), NO_RULE, HS_KEEPS_POWER, false, HS_DANGER_HEATER,
     "Let the heater warm up (%s) before there is high voltage.", tubes_danger},
    {HS_DANGER_TUBES, "hv-on", HS_MOMENT_HOT, ALWAYS, WORD("on"), NO_RULE, HS_KEEPS_POWER, false, -1,
     "Switch the high voltage on (%s), one hand free.", tubes_danger},
    {HS_DANGER_TUBES, "probe", HS_MOMENT_CLIP, ALWAYS, VALUE(HS_VOLT), HS_RULE_AT_LEAST, HS_LIMIT_HIGHEST, HS_KEEPS_STEP, false, -1,
     "Which voltage is the probe rated for that goes to %s? Read it off the probe.", tubes_danger},

    {HS_DANGER_CELLS, "shape", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, WORD("flat", "swollen"), RULE(HS_RULE_BARS), HS_KEEPS_POWER, false, -1,
     "Look at the cells (%s): flat, or swollen?", cells_danger},
    {HS_DANGER_CELLS, "leak", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, WORD("dry", "wet"), RULE(HS_RULE_BARS), HS_KEEPS_POWER, false, -1,
     "Are the cells (%s) dry, or is anything wet or does it smell sweet?", cells_danger},
    {HS_DANGER_CELLS, "skin", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, WORD("whole", "punctured"), RULE(HS_RULE_BARS), HS_KEEPS_POWER, false, -1,
     "Is their skin whole, or punctured or dented (%s)?", cells_danger},
    {HS_DANGER_CELLS, "temperature", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, VALUE(HS_DEGC), HS_RULE_SOUND_MOST, HS_LIMIT_CELL_WARM, HS_KEEPS_POWER,
     false, -1, "How warm are the cells (%s)? Measure it without touching them.", cells_danger},
    {HS_DANGER_CELLS, "volts", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, VALUE(HS_VOLT), HS_RULE_SOUND_BAND, HS_LIMIT_CELL_MOST, HS_KEEPS_POWER, false, -1,
     "Measure the cell that is furthest from the others (%s), in volts of one cell.", cells_danger},
    {HS_DANGER_CELLS, "attended", HS_MOMENT_UP, ALWAYS, NAME, NO_RULE, HS_KEEPS_WORK, false, -1,
     "Who stays beside the cells (%s) as long as they are charged or under power? Your own name.", cells_danger},

    {HS_DANGER_BATTERY, "state", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, WORD("sound", "swollen", "frozen"), RULE(HS_RULE_BARS), HS_KEEPS_POWER, false, -1,
     "Look at the battery (%s): sound, swollen or frozen?", battery_danger},
    {HS_DANGER_BATTERY, "ventilation", HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, WORD("open"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Open a window or switch the extraction on: %s may give off hydrogen.", battery_danger},
    {HS_DANGER_BATTERY, "spill", HS_MOMENT_HANDS, HAS(HS_DANGER_WET), WORD("ready"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Lay the spill kit for its acid or caustic beside you, with goggles and water for the eyes (%s).", battery_danger},
    {HS_DANGER_BATTERY, "rings", HS_MOMENT_HANDS, ALWAYS, WORD("off"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Take rings, watch and chains off before you reach for %s.", battery_danger},
    {HS_DANGER_BATTERY, "tools", HS_MOMENT_HANDS, ALWAYS, WORD("insulated"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Lay only insulated tools near %s.", battery_danger},
    {HS_DANGER_BATTERY, "terminal", HS_MOMENT_HANDS, ALWAYS, WORD("insulated"), NO_RULE, HS_KEEPS_PLUG, false, -1,
     "Insulate one terminal of %s, so that nothing can bridge the two.", battery_danger},
    {HS_DANGER_BATTERY, "fuse", HS_MOMENT_UP, ALWAYS, VALUE(HS_AMP), HS_RULE_AT_MOST, HS_LIMIT_FUSE, HS_KEEPS_WORK, false, -1,
     "Which fuse sits at the source, right at the terminal of %s?", battery_danger},

    {HS_DANGER_TOXIC, "known", HS_MOMENT_BARE | HS_MOMENT_HANDS, ALWAYS, WORD("identified", "suspected"), NO_RULE, HS_KEEPS_WATCH, false, -1,
     "Is it identified what is toxic here (%s), by its marking or its papers, or only suspected? Suspected counts as if it were.", toxic_danger},
    {HS_DANGER_TOXIC, "state", HS_MOMENT_BARE | HS_MOMENT_HANDS, ALWAYS, WORD("intact", "broken"), RULE(HS_RULE_BARS), HS_KEEPS_WORK, false, -1,
     "Without touching it, as far as you can see it from here: is %s intact, or broken, chipped, leaking or dusty?", toxic_danger},
    {HS_DANGER_TOXIC, "cutting", HS_MOMENT_HANDS, ALWAYS, WORD("none"), NO_RULE, HS_KEEPS_STEP, false, -1,
     "Nothing at %s is cut, drilled, ground, scraped, filed, sanded or blown off in this step: type none.", toxic_danger},

    {HS_DANGER_LASER, "class", HS_MOMENT_BARE | HS_MOMENT_HANDS | HS_MOMENT_UP, ALWAYS, TEXT, RULE(HS_RULE_CLASS), HS_KEEPS_WATCH, false, -1,
     "Which laser class stands on the label of %s: 1, 1M, 2, 2M, 3R, 3B or 4?", laser_danger},
    {HS_DANGER_LASER, "source", HS_MOMENT_HANDS, ALWAYS, WORD("off"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "Is the source of %s off, with its key or interlock taken out?", laser_danger},
    {HS_DANGER_LASER, "beam", HS_MOMENT_UP, ONLY(HS_ONLY_STRONG), WORD("blocked"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "Is the beam of %s blocked or capped, at every open end?", laser_danger},
    {HS_DANGER_LASER, "band", HS_MOMENT_UP, ONLY(HS_ONLY_STRONG), TEXT, RULE(HS_RULE_BAND), HS_KEEPS_WORK, false, -1,
     "Put the eyewear on. Which band of wavelengths stands on it (%s)? Such as \"900 nm to 1100 nm\".", laser_danger},
    {HS_DANGER_LASER, "density", HS_MOMENT_UP, ONLY(HS_ONLY_STRONG), VALUE(HS_UNITLESS), HS_RULE_AT_LEAST, HS_LIMIT_DENSITY, HS_KEEPS_WORK, false, -1,
     "Which optical density stands on the eyewear for that band (%s)?", laser_danger},

    {HS_DANGER_FLAMMABLE, "spark", HS_MOMENT_USE, ALWAYS, WORD("none"), NO_RULE, HS_KEEPS_STEP, false, -1,
     "No flame, no hot iron, no relay or motor that could spark near %s: type none.", vapour_danger},
    {HS_DANGER_FLAMMABLE, "ventilation", HS_MOMENT_USE, ALWAYS, WORD("open"), NO_RULE, HS_KEEPS_STEP, true, -1,
     "Open a window or switch the extraction on before you use %s.", vapour_danger},
    {HS_DANGER_FLAMMABLE, "aired", HS_MOMENT_UP, ONLY(HS_ONLY_USED), WORD("aired"), NO_RULE, HS_KEEPS_WORK, false, HS_DANGER_AIRS,
     "Let the vapour of %s go, out of the unit and its corners too, until the time is over.", vapour_danger},

    {HS_DANGER_STATIC, "strap", HS_MOMENT_HANDS, ONLY(HS_ONLY_AWAY_LIVE), WORD("checked"), NO_RULE, HS_KEEPS_WATCH, false, -1,
     "Put the wrist strap on and check it at the tester, today and not yesterday, before you reach for %s.", static_danger},
    {HS_DANGER_STATIC, "off", HS_MOMENT_UP, ONLY(HS_ONLY_NEAR_LIVE), WORD("off"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "A dangerous zone will be live and open: take the wrist strap off (%s).", static_danger},

    {HS_DANGER_HANDLING, "cooled", HS_MOMENT_BARE | HS_MOMENT_HANDS, HAS(HS_DANGER_HOT), VALUE(HS_DEGC), HS_RULE_AT_MOST, HS_LIMIT_TOUCH, HS_KEEPS_POWER,
     false, -1, "How warm is %s? Measure it without touching.", handling_danger},
    {HS_DANGER_HANDLING, "gloves", HS_MOMENT_BARE | HS_MOMENT_HANDS, HAS(HS_DANGER_SHARP), WORD("on"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "Put gloves on: the edges of %s cut.", handling_danger},
    {HS_DANGER_HANDLING, "steady", HS_MOMENT_BARE | HS_MOMENT_HANDS, HAS(HS_DANGER_TIPS), WORD("steady"), NO_RULE, HS_KEEPS_WORK, false, -1,
     "Prop or clamp it so that nothing tips when %s moves, and type steady.", handling_danger},
    {HS_DANGER_HANDLING, "helper", HS_MOMENT_BARE | HS_MOMENT_HANDS, ONLY(HS_ONLY_HEAVY), WHO, RULE(HS_RULE_ANOTHER), HS_KEEPS_WORK, false, -1,
     "Nobody lifts %s alone. Who helps? They type their own name.", handling_danger},

    {HS_DANGER_KINDS, "specialist", 0, ALWAYS, WHO, RULE(HS_RULE_ANOTHER), HS_KEEPS_STEP, false, -1,
     "This was found unsafe (%s), and nothing goes on before somebody qualified for it has dealt with it. Who has? They type their own name; else type leave.",
     "It was broken, swollen, or out of its limits when it was looked at last."},
};

const hs_danger_row *hs_danger_rows(int *count)
{
	*count = (int)(sizeof rows / sizeof *rows);
	return rows;
}

int hs_danger_specialist(void)
{
	return (int)(sizeof rows / sizeof *rows) - 1;
}

const hs_danger_row *hs_danger_row_of(const hs_gate *gate)
{
	int count;
	return &hs_danger_rows(&count)[gate->pair];
}
