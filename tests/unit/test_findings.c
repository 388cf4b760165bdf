/*
 * Every finding of the shipped playbooks, rehearsed: a unit that is healthy but for what its row says must lead there, and no
 * finding may be without a row. Numbers are typed to their last figure, since a coarse one decides nothing. The gates are answered well; what they ask is the business of other tests.
 */
#include "unit_bench.h"

#include <stdlib.h>
#include "halfsplit/engine/engine.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"
#include "halfsplit/unit/check.h"

enum { ASKS_MOST = 600 };

typedef struct rehearsal {
	const char *finding;
	const char *differs; /* "ASK=ANSWER; ..." beside what a healthy unit shows; an ask given twice is answered so in turn */
} rehearsal;

static const char fell_healthy[] =
    "intake/shown=3 of 3; intake/entry=low; rails/p12=12.00; rails/p5=5.00; fuse-reading=0.1; primary-ohms=148 kohm; rails-alone/p12=12.00; "
    "rails-alone/p5=5.00; output-level=-8.3; tp2-level=-43.8; filter-label=3.00; tp1-level=-63.8; lna-feed-volts=8.00; lna-feed-ohms=100.00; "
    "tp1-mid=-63.8; limiter-diode=0.5; w1-ohms=0.3; lo-level=-13.7; reference-level=0.00; lo-trim-up=-13.7; output-trimmed=-8.3; "
    "tp3-level=-50.1; if-gain/before=-50.1; if-gain/after=-8.3; new-fuse=T 1 A";

#define BLOWN   "intake/entry=nothing; power-lamp=dark; fuse-reading=OL; "
#define NO_GAIN "output-level=-31.00; tp2-level=-66.00; "
static const rehearsal fell[] = {
    {"found-fuse", BLOWN},
    {"found-primary", BLOWN "primary-ohms=200.00"},
    {"found-mains-side", BLOWN "lamp-again=dark"},
    {"found-psu", "rails/p12=9.00; rails-alone/p12=9.00"},
    {"found-tray-load", "rails/p5=1.00"},
    {"found-settings", "settings=wrong"},
    {"found-lna", NO_GAIN},
    {"found-lna-feed", NO_GAIN "lna-feed-volts=1.00; lna-feed-ohms=OL"},
    {"found-lna-side", NO_GAIN "lna-feed-volts=1.00; lna-feed-ohms=40.00"},
    {"found-filter", NO_GAIN "tp1-level=-86.00"},
    {"found-limiter", NO_GAIN "tp1-level=-86.00; tp1-mid=-86.00; limiter-diode=0.01"},
    {"found-w1", NO_GAIN "tp1-level=-86.00; tp1-mid=-86.00; w1-ohms=OL"},
    {"found-input", NO_GAIN "tp1-level=-86.00; tp1-mid=-86.00"},
    {"found-mixer", "output-level=-31.00; tp3-level=-81.00"},
    {"found-synth", "output-level=-31.00; lo-level=-40.00; lock-lamp=dark"},
    {"found-reference", "output-level=-31.00; lo-level=-40.00; lock-lamp=blinks; reference-level=-30.00"},
    {"found-lo-buffer", "output-level=-31.00; lo-level=-20.00; lo-trim-up=-20.00"},
    {"found-lo-trim", "output-level=-16.00; lo-level=-20.00"},
    {"found-if-amp", "output-level=-31.00; if-gain/after=-31.00"},
    {"not-shown", "intake/shown=0 of 3"},
    {"not-shown", "power-lamp=lit; intake/entry=nothing"},
    {"unclear", "rails/p12=not read: the prod slips"},
    {"unclear", "output-level=-31.00"},
    {NULL, NULL},
};

static const char copse_healthy[] =
    "intake/shown=2 of 2; intake/entry=wrong; f1-ohms=0.2; primary-ohms=22.00; s1-pole=0.1; p12-dark=12.00; secondary-ohms=0.7; bridge/D1=0.55; "
    "bridge/D2=0.55; bridge/D3=0.55; bridge/D4=0.55; c7-alone=2.2 kohm; new-f1=T 1.25 A; f1-again=0.2; out-volts=40.00; p12=12.00; "
    "limit-lamp=dark; how-low=40.00; knob=38.00; knob=20.00; ref-label=5.00; reference=5.00; gain/out=40.00; gain/ref=5.00; trim=40.00; amp-out=10.00; raw-volts=56.00; raw-dark=56.00; "
    "be-q3=0.6; be-pass/Q1=0.6; be-pass/Q2=0.6; ce-pass=2 kohm; ce-q3=2 kohm; j1-ohms=900.00; j1-without=900.00; limit-volts/ref=5.00; "
    "limit-volts/set=2.5; loaded-volts=40.00; limit-loaded=dark; raw-loaded/dc=48.00; raw-loaded/ripple=0.6; amp-loaded=10.00";

#define DARK   "intake/entry=none; lamp=dark; "
#define SAGS   "loaded-volts=30.00; "
#define STUCK  "out-volts=55.00; knob=55.00; "
#define LIMITS "intake/entry=limits; out-volts=0.00; limit-lamp=lit; "
static const rehearsal copse[] = {
    {"found-fuse", DARK "f1-ohms=OL"},
    {"found-switch", DARK "primary-ohms=OL; s1-pole=OL"},
    {"found-t1", DARK "primary-ohms=OL"},
    {"found-t1", DARK "f1-ohms=OL; primary-ohms=6.00"},
    {"found-secondary", DARK "f1-ohms=OL; secondary-ohms=OL"},
    {"found-secondary", DARK "p12-dark=0.00; raw-dark=0.00; secondary-ohms=OL"},
    {"found-raw", DARK "p12-dark=0.00; raw-dark=20.00"},
    {"found-bridge", DARK "f1-ohms=OL; bridge/D3=0.01"},
    {"found-bridge", SAGS "raw-loaded/ripple=1.4; bridge/D2=OL"},
    {"found-c7-short", DARK "f1-ohms=OL; c7-alone=1.00"},
    {"found-eats-fuses", DARK "f1-ohms=OL; lamp-again=dark; f1-again=OL"},
    {"found-aux", DARK "p12-dark=3.00"},
    {"found-aux", "out-volts=0.00; p12=3.00"},
    {"found-c7", SAGS "raw-loaded/ripple=4.00"},
    {"found-raw", SAGS "raw-loaded/dc=40.00"},
    {"found-raw", "out-volts=0.00; raw-volts=30.00"},
    {"found-reference", "out-volts=38.00; reference=4.8"},
    {"found-reference", LIMITS "limit-volts/ref=3.00; limit-volts/set=1.5"},
    {"found-amp", "out-volts=0.00; amp-out=1.00"},
    {"found-amp-weak", SAGS "amp-loaded=2.00"},
    {"found-drive", STUCK},
    {"found-pass", STUCK "ce-pass=1.00"},
    {"found-pass", "out-volts=0.00; be-pass/Q2=OL"},
    {"found-driver", STUCK "ce-q3=1.00"},
    {"found-pass-side", "out-volts=0.00"},
    {"found-pass-side", SAGS},
    {"found-r34", "out-volts=38.8; gain/out=38.8"},
    {"found-divider", "out-volts=38.8; gain/out=38.8; trim=38.8"},
    {"found-crowbar", LIMITS "j1-ohms=1.00"},
    {"found-c12", LIMITS "j1-ohms=1.00; j1-without=1.00"},
    {"found-r41", LIMITS "limit-volts/set=0.5"},
    {"found-u4", LIMITS},
    {"found-r41", SAGS "limit-loaded=lit; limit-volts/set=1.6"},
    {"found-settings", "settings=down"},
    {"not-shown", "settings=up"},
    {"unclear", "out-volts=not read: no prod"},
    {"unclear", "out-volts=38.8"},
    {NULL, NULL},
};

static const char garth_healthy[] =
    "intake/entry=low; rails/p1=28.00; rails/bus=28.00; rails/p12=12.00; f1-ohms=0.1; bus-limit=2.1 kohm; bus-fuse=2.1 kohm; bus-alone=2.1 kohm; "
    "key-lamp=key; key-volts=0.1; load-check/pad=50.00; load-check/load=50.00; as-found=16.9; output=16.9; reseated=16.9; driven/bus=28.00; "
    "driven/p12=12.00; p1-driven=28.00; bands-apart/low=16.9; bands-apart/high=16.9; prot=dark; reverse/forward=7.00; reverse/reverse=-15.00; "
    "open-loop=16.9; bar=same; tp2-drive=6.9; tp3-level=7.6; coupling-stamp=40.00; forward=7.00; bank/low.1=-30.9; bank/low.2=-30.9; "
    "bank/low.3=-30.9; bank/high.1=-30.9; bank/high.2=-30.9; bank/high.3=-30.9; final-drain=-0.02; final-bias=2.8; bias-set=1.1; "
    "drive-up/out=0.00; drive-up/current=2.00; match-peak=16.9; driver-alone=6.9; first-stage/straight=1.7; first-stage/padded=-8.2; "
    "drive-both/low=6.8; drive-both/high=6.8; new-a2=A2 of stock; new-f1=10 A; fins-cold=25.00; fade=steady; fins=44.00; rt1-ohms=5 kohm";

#define NOTHING "intake/entry=nothing; "
#define NO_BUS  NOTHING "lamp=dark; rails/bus=0.00; rails/p12=0.00; f1-ohms=OL; "
#define LOW     "as-found=9.00; output=9.00; "
#define MENDED  "as-found=9.00; output=9.00; output=16.9; open-loop=9.00; "
#define WEAK    LOW "open-loop=9.00; "
#define DRIVER  "tp2-drive=-4.00; driver-alone=-4.00; "
#define BAD_LOW "bank/low.1=-40.00; bank/low.2=-40.00; bank/low.3=-40.00; "
#define BAD_HIGH "bank/high.1=-40.00; bank/high.2=-40.00; bank/high.3=-40.00; "
static const rehearsal garth[] = {
    {"found-limit", NOTHING "lamp=limit"},
    {"found-new-fuse", NO_BUS "lamp-again=dark"},
    {"found-feed-lead", NOTHING "lamp=dark; rails/p1=0.00"},
    {"found-feed-lead", LOW "driven/bus=20.00; p1-driven=21.00"},
    {"found-fuse", NO_BUS},
    {"found-clips", LOW "driven/bus=20.00"},
    {"found-d1", NOTHING "lamp=limit; bus-limit=0.4; bus-alone=0.4"},
    {"found-reg", LOW "driven/p12=9.00"},
    {"found-reg", NOTHING "lamp=dark; rails/p12=3.00"},
    {"found-key-in", NOTHING "key-lamp=none; key-volts=12.00"},
    {"found-key-sw", NOTHING "key-lamp=none"},
    {"found-ports", "ports/pins=no"},
    {"found-joints", LOW "inside/tight=no"},
    {"found-settings", "as-found=7.00"},
    {"found-pad", WEAK DRIVER "first-stage/straight=-8.00"},
    {"found-a1", WEAK DRIVER "first-stage/straight=-8.00; first-stage/padded=-18.00"},
    {"found-c8", MENDED DRIVER},
    {"found-a2", MENDED "tp2-drive=-4.00; tp2-drive=6.9; driver-alone=-4.00; drive-both/low=-4.00; drive-both/high=-4.00"},
    {"found-w2", WEAK DRIVER "drive-both/low=-4.00; drive-both/high=-4.00"},
    {"found-l9", WEAK "tp3-level=0.00; final-drain=-2.00"},
    {"found-bias-side", WEAK "tp3-level=0.00; final-bias=1.00; bias-set=0.3"},
    {"found-bias", MENDED "tp3-level=0.00; final-bias=1.00"},
    {"found-q3-bus", NOTHING "lamp=limit; bus-limit=0.4"},
    {"found-q3-input", WEAK "tp2-drive=-4.00"},
    {"found-q3-weak", WEAK "tp3-level=0.00; match-peak=9.00"},
    {"found-match", WEAK "tp3-level=0.00"},
    {"found-w3", WEAK "forward=0.00"},
    {"found-k2", "bands-apart/high=5.00; " BAD_LOW BAD_HIGH},
    {"found-f-low", "bands-apart/low=5.00; " BAD_LOW},
    {"found-f-high", "bands-apart/high=5.00; " BAD_HIGH},
    {"found-w4", WEAK},
    {"found-w4-reverse", LOW "prot=lit; reverse/reverse=5.00"},
    {"found-d4", LOW "bar=different"},
    {"found-u5-bar", LOW},
    {"found-u5-prot", LOW "prot=lit"},
    {"found-rt1", LOW "prot=lit; rt1-ohms=2 kohm"},
    {"found-fan", LOW "prot=lit; fins=80.00"},
    {"found-paste", "intake/entry=fades; fade=sinks"},
    {"not-shown", "as-found=17.00"},
    {"unclear", "load-check/pad=OL"},
    {NULL, NULL},
};

static const char linnet_healthy[] =
    "intake/shown=2 of 2; prods=0.1; rails/p17=16.90; rails/n17=-16.90; rails/p-ripple=1 mV; rails/n-ripple=1 mV; bars/p17=17.00; bars/n17=-17.00; "
    "bars/p-ripple=2 mV; bars/n-ripple=2 mV; strip-dead/r70=10.10; strip-dead/r71=10.10; strip-dead/p-load=1.2 kohm; strip-dead/n-load=1.2 kohm; "
    "p48-on/pin2=48.00; p48-on/pin3=48.00; p48-on/tp1=0.01; p48-beside=48.00; p48-gone/pin2=0.01; p48-gone/pin3=0.01; p48-gone/beside=0.01; level/left=2.90; "
    "level/right=2.90; tp3=0.00; tp1/this=0.00; tp1/beside=0.00; pad/out=-10.00; pad/in=-30.00; input-dead/pin2=0.10; input-dead/pin3=0.10; "
    "input-dead/c1=47 uF; input-dead/c2=47 uF; input-dead/gain=100.00; switched/straight.1=0.00; switched/cut.1=0.00; switched/eq.1=0.00; "
    "insert-ohms=0.10; tp5=-0.10; tp4=0.00; mute-volts=0.01; fader-ohms=6.8 kohm; beside-out/left=2.90; beside-out/right=2.90; legs/left=-3.10; "
    "legs/right=-3.10; buses/left=-3.10; buses/right=-3.10; buses/left-main=-13.10; buses/right-main=-13.10; dirt/left=0.02; dirt/right=0.02; "
    "dirt-behind/left=0.02; dirt-behind/right=0.02; zeroes/tp1=0.01; zeroes/tp2=0.01; zeroes/tp4=0.01; dirt-along/tp1=0.02; dirt-along/tp3=0.02; "
    "dirt-along/tp4=0.02; dirt-along/tp5=0.02; bass/left=2.90; bass/right=2.90; bass-along/tp1=0.00; bass-along/tp2=0.00; bass-along/tp3=0.00; "
    "options/pad.1=-17.10; options/eq.1=2.90; noise/left=-82.00; noise/right=-82.00; noise-behind/left=-90.00; noise-behind/right=-90.00; "
    "noise-beside=different; strap-ohms=0.10; noise-down=-82.00; noise-tp1=-88.00; noise-kind=hiss; screw-ohms=0.10";

#define RAIL     "rails/p17=0.30; "
#define SILENT   "level/left=-80.00; level/right=-80.00; "
#define BEFORE   SILENT "tp3=-80.00; "
#define INPUT    BEFORE "tp1/this=-10.00; "
#define EQUAL    BEFORE "switched/straight.1=-80.00; "
#define MUTED    SILENT "tp5=-80.00; "
#define ONE_SIDE "level/right=-80.00; "
#define ONE_BUS  ONE_SIDE "beside-out/right=-80.00; "
#define DIRTY    "dirt/left=0.80; dirt/right=0.80; "
#define THIN     "bass/left=-3.00; bass/right=-3.00; "
#define NOISY    "noise/left=-60.00; noise/right=-60.00; "
static const rehearsal linnet[] = {
    {"found-settings", "settings=wrong"},
    {"found-supply", RAIL "bars/p17=9.00"},
    {"found-supply", "rails/n-ripple=0.20; bars/n-ripple=0.20"},
    {"found-c70", RAIL "strip-dead/r70=OL; strip-dead/p-load=1.20"},
    {"found-r70", RAIL "strip-dead/r70=OL"},
    {"found-feed", RAIL},
    {"found-u48", "p48-on/pin2=0.10; p48-on/pin3=0.10; p48-beside=0.10"},
    {"found-s1", "p48-on/pin2=0.10; p48-on/pin3=0.10"},
    {"found-s1-stuck", "p48-gone/pin2=48.00; p48-gone/pin3=48.00"},
    {"beside-live", "p48-gone/beside=47.00"},
    {"found-r1", "p48-on/pin2=0.10"},
    {"found-r1", "p48-on/pin3=0.10"},
    {"found-c1-leaks", "p48-on/tp1=2.00"},
    {"found-a1-zero", "p48-on/tp1=2.00; zeroes/tp1=2.00"},
    {"found-j1", INPUT "input-dead/pin3=OL"},
    {"found-c1", INPUT "input-dead/c1=0.10 uF"},
    {"found-s5", INPUT "input-dead/gain=OL"},
    {"found-s5-high", SILENT "tp3=-80.00; tp1/this=20.00"},
    {"found-a1", INPUT},
    {"found-a1", INPUT "pad/out=-90.00; pad/in=-90.00"},
    {"found-s2", INPUT "pad/in=-10.00"},
    {"found-s3", EQUAL "switched/eq.1=-80.00"},
    {"found-s4", EQUAL "switched/cut.1=-80.00"},
    {"found-a2", EQUAL "switched/cut.1=-80.00; switched/eq.1=-80.00"},
    {"found-j3", BEFORE "insert-ohms=OL"},
    {"found-c30", BEFORE},
    {"found-rv5", MUTED "tp4=-80.00; fader-ohms=OL"},
    {"found-a4", MUTED "tp4=-80.00"},
    {"found-u6", MUTED "mute-volts=-14.00"},
    {"found-q5", MUTED},
    {"found-rv6", SILENT "legs/left=-80.00; legs/right=-80.00"},
    {"found-rv6", ONE_SIDE "legs/right=-80.00"},
    {"found-r60", ONE_SIDE},
    {"found-a5", ONE_BUS "buses/right=-80.00; buses/right-main=-80.00"},
    {"found-rv91", ONE_BUS "buses/right-main=-80.00"},
    {"found-a7", ONE_BUS},
    {"found-a5-dirt", "dirt/left=0.80; dirt-behind/left=0.80"},
    {"found-a7-dirt", "dirt/left=0.80"},
    {"found-a2-zero", DIRTY "zeroes/tp2=-1.00"},
    {"found-a4-zero", DIRTY "zeroes/tp4=1.00"},
    {"found-a1-dirt", DIRTY "dirt-along/tp1=0.80; dirt-along/tp3=0.80; dirt-along/tp4=0.80; dirt-along/tp5=0.80"},
    {"found-a2-dirt", DIRTY "dirt-along/tp3=0.80; dirt-along/tp4=0.80; dirt-along/tp5=0.80"},
    {"found-a4-dirt", DIRTY "dirt-along/tp4=0.80; dirt-along/tp5=0.80"},
    {"found-q5-dirt", DIRTY "dirt-along/tp5=0.80"},
    {"found-c1-dried", THIN "bass-along/tp1=-8.00; bass-along/tp2=-8.00; bass-along/tp3=-8.00"},
    {"found-s3-stuck", THIN "bass-along/tp2=-8.00; bass-along/tp3=-8.00"},
    {"found-c30-dried", THIN "bass-along/tp3=-8.00"},
    {"found-s2-out", "options/pad.1=2.90"},
    {"found-a3", "options/eq.1=-80.00"},
    {"found-a5-noise", "noise/right=-60.00; noise-behind/right=-66.00"},
    {"found-a7-noise", "noise/right=-60.00"},
    {"found-star", NOISY "noise-beside=same; strap-ohms=3.00"},
    {"found-all-noisy", NOISY "noise-beside=same"},
    {"found-a4-noise", NOISY "noise-down=-60.00"},
    {"found-a2-noise", NOISY},
    {"found-a1-noise", NOISY "noise-tp1=-60.00"},
    {"found-a1-noise", NOISY "noise-tp1=-60.00; noise-kind=hum"},
    {"found-e9", NOISY "noise-tp1=-60.00; noise-kind=hum; screw-ohms=3.00"},
    {"found-s5-scratches", "knobs=gain"},
    {"found-rv5-scratches", "knobs=fader"},
    {"found-rv6-scratches", "knobs=pan"},
    {"bad-lead", "prods=0.90"},
    {"not-shown", "intake/shown=0 of 2"},
    {"not-shown", "settings=right"},
    {"unclear", "level/left=not read: no lead"},
    {"unclear", "level/left=0.80"},
    {"unclear", DIRTY},
    {NULL, NULL},
};

static const char sill_healthy[] =
    "intake/shown=2 of 2; intake/entry=weak; feed=13.70; f1-ohms=0.10; bus-ohms=950.00; sinad-vhf=19.00; sinad-uhf=18.00; feed-vhf=8.70; "
    "feed-uhf=8.70; front-vhf=-69.50; front-uhf=-70.80; lo-vhf=-11.40; lo-uhf=-11.50; k1-vhf=0.20; k1-uhf=0.20; peak-vhf=-69.50; peak-uhf=-70.80; "
    "agc-quiet=4.00; agc-off=4.00; rails/p9=9.00; rails/p5=5.00; p9-alone=9.00; tp4=-58.90; tp1=-69.50; d1-diode=0.55; w1-ohms=0.20; tp8=0.00; tp2=-11.40; "
    "tp3=-75.90; tp18=6.00; tp5=-52.70; tp7=-20.20; tp5-again=-52.70; tp6=-27.70; mute-line=0.05; noise-driven=0.20; threshold-open=4.50; tp9=0.25; "
    "tp10=0.25; tp11=0.06; j3=1.25; tp6-silent=-27.70; noise-quiet=3.00; threshold-tight=0.80; set-r31=0.80; mute-quiet=4.90; agc-strong=2.00";

#define NO_LAMP     "intake/entry=dead; lamp=dark; "
#define F1_OPEN    NO_LAMP "f1-ohms=OL; "
#define VHF_DEAF "sinad-vhf=1.00; "
#define UHF_DEAF "sinad-uhf=1.00; "
#define DEAF     VHF_DEAF UHF_DEAF
#define EARLY    DEAF "tp4=-110.00; "
#define LATE   DEAF "tp5=-110.00; "
#define NO_HISS  "intake/entry=silent; hiss=none; "
#define SHUT    NO_HISS "mute-line=4.90; "
#define HISSES     "intake/entry=squelch; squelch-shuts=stays; "
static const rehearsal sill[] = {
    {"found-feed-lead", NO_LAMP "feed=0.00"},
    {"found-behind-f1", NO_LAMP},
    {"found-fuse", F1_OPEN},
    {"found-d9", F1_OPEN "bus-ohms=0.60"},
    {"found-d9-breaks", F1_OPEN "lamp-again=dark"},
    {"found-settings", "settings=wrong"},
    {"found-q5", VHF_DEAF "feed-vhf=0.00"},
    {"found-q6", UHF_DEAF "feed-uhf=0.00"},
    {"found-vco-vhf", VHF_DEAF "lo-vhf=-110.00"},
    {"found-vco-uhf", UHF_DEAF "lo-uhf=-110.00"},
    {"found-k1", VHF_DEAF "front-vhf=-110.00; k1-vhf=OL"},
    {"found-k1", UHF_DEAF "front-uhf=-110.00; k1-uhf=OL"},
    {"found-fl1", VHF_DEAF "front-vhf=-83.00"},
    {"found-fl2", UHF_DEAF "front-uhf=-83.00"},
    {"found-front-vhf", VHF_DEAF "front-vhf=-110.00; peak-vhf=-110.00"},
    {"found-front-uhf", UHF_DEAF "front-uhf=-110.00; peak-uhf=-110.00"},
    {"found-u6", DEAF "agc-quiet=0.60"},
    {"found-u6", "intake/entry=strong; agc-strong=4.00"},
    {"found-c35", DEAF "agc-quiet=0.50; agc-off=0.50"},
    {"found-u9", DEAF "rails/p9=7.20; p9-alone=7.20"},
    {"found-p9-load", NO_HISS "rails/p9=0.40"},
    {"found-u10", DEAF "rails/p5=0.00"},
    {"found-d1", EARLY "tp1=-110.00; d1-diode=0.01"},
    {"found-w1", EARLY "tp1=-110.00; w1-ohms=OL"},
    {"found-w1-joint", EARLY "tp1=-83.00"},
    {"found-synth", EARLY "lock-lamp=dark"},
    {"found-reference", EARLY "lock-lamp=blinks; tp8=-20.00"},
    {"found-q8", EARLY "tp2=-30.00"},
    {"found-u1", EARLY "tp3=-95.00"},
    {"found-q3", EARLY "tp18=8.90"},
    {"found-fl3-q3", EARLY},
    {"found-y2", LATE "tp7=-110.00"},
    {"found-fl4", LATE},
    {"found-u2", LATE "tp5-again=-110.00"},
    {"found-u3", DEAF "tp6=-50.00"},
    {"found-u3-silent", NO_HISS "tp9=0.00; tp6-silent=-110.00"},
    {"found-u4", DEAF},
    {"found-u4", NO_HISS "tp9=0.00"},
    {"found-q7", NO_HISS "tp10=0.00"},
    {"found-r20", NO_HISS "tp11=0.00"},
    {"found-u5", NO_HISS "j3=0.00"},
    {"found-speaker", NO_HISS},
    {"found-u7", SHUT "noise-driven=4.90"},
    {"found-r30-open", SHUT "threshold-open=0.05"},
    {"found-u8", SHUT},
    {"found-u7", HISSES "noise-quiet=0.05"},
    {"found-r31", HISSES "threshold-tight=3.60"},
    {"found-r31", "intake/entry=squelch; squelch-opens=stays; threshold-tight=0.20"},
    {"found-r30", HISSES "threshold-tight=4.50; set-r31=4.40"},
    {"found-u8", HISSES "mute-quiet=0.05"},
    {"found-q7", HISSES},
    {"not-shown", "settings=right"},
    {"not-shown", "intake/shown=0 of 2"},
    {"not-shown", "intake/entry=strong"},
    {"not-shown", "intake/entry=squelch"},
    {"unclear", VHF_DEAF "lo-vhf=-11.40"},
    {"unclear", "sinad-vhf=not read: no lead"},
    {NULL, NULL},
};

typedef struct bench_unit {
	const char *playbook, *healthy;
	const rehearsal *rows;
} bench_unit;

/* The answer to the nth asking of this: the nth in the list, or the last. False when the list says nothing of it. */
static bool listed(const char *list, const char *ask, int nth, char *answer, size_t size)
{
	size_t length = strlen(ask);
	bool found = false;
	for (const char *at = list; *at != '\0';) {
		size_t whole = strcspn(at, ";");
		if (whole > length && strncmp(at, ask, length) == 0 && at[length] == '=' && nth-- >= 0) {
			snprintf(answer, size, "%.*s", (int)(whole - length - 1), at + length + 1);
			found = true;
		}
		at += whole;
		at += strspn(at, "; ");
	}
	return found;
}

static const char *otherwise(const hs_engine *engine, const hs_ask *ask, hs_ask_words *words)
{
	if (ask->kind == HS_ASK_GATE)
		return good_answer(&hs_engine_playbook(engine)->unit, &ask->gate);
	hs_engine_words(engine, ask, words);
	return words->choice_count > 0 ? words->choices[0].word : "nothing";
}

/* How often each ask was met: the ids in a row, since there are few. */
typedef struct met {
	char ids[ASKS_MOST][80];
	int count;
} met;

static int times_met(met *all, const char *id)
{
	int times = 0;
	for (int i = 0; i < all->count; i++)
		times += strcmp(all->ids[i], id) == 0;
	assert_in_range(all->count, 0, ASKS_MOST - 1);
	snprintf(all->ids[all->count++], sizeof all->ids[0], "%s", id);
	return times;
}

static void answer_next(hs_engine *engine, const bench_unit *unit, const rehearsal *row, met *all, int64_t *now_ms)
{
	hs_ask ask = hs_engine_next(engine);
	hs_ask_words words = {0};
	hs_error error = {0};
	hs_taken taken = HS_NOT_TAKEN;
	char answer[120];
	hs_buf id;
	hs_buf_init(&id);
	hs_engine_ask_id(engine, &ask, &id);
	if (id.data == NULL)
		fail_msg("%s: nothing is asked, and it has found nothing", row->finding);
	int nth = times_met(all, id.data);
	if (!listed(row->differs, id.data, nth, answer, sizeof answer) && !listed(unit->healthy, id.data, nth, answer, sizeof answer))
		snprintf(answer, sizeof answer, "%s", otherwise(engine, &ask, &words));
	*now_ms = (ask.earliest_ms > *now_ms ? ask.earliest_ms : *now_ms) + 1000;
	hs_event event = {.kind = HS_EVENT_ANSWER, .ask = id.data, .text = answer, .by = "Ada Brook", .utc = "2026-01-01T09:00:00.000Z",
	                  .mono_ms = *now_ms};
	if (!hs_engine_take(engine, &event, &taken, &error) || taken != HS_TAKEN)
		fail_msg("%s %s: %s: \"%s\" was not taken: %s", unit->playbook, row->finding, id.data, answer, error.message);
	hs_ask_words_free(&words);
	hs_buf_free(&id);
}

static const char *rehearse(const hs_playbook *playbook, const bench_unit *unit, const rehearsal *row)
{
	hs_error error = {0};
	hs_engine *engine = hs_engine_new(playbook, "Ada Brook", &error);
	int64_t now_ms = 1000;
	met *all = calloc(1, sizeof *all);
	assert_non_null(engine);
	assert_non_null(all);
	hs_engine_open(engine);
	while (hs_engine_finding(engine) < 0)
		answer_next(engine, unit, row, all, &now_ms);
	const char *found = playbook->steps[hs_engine_finding(engine)].id;
	while (!hs_engine_ended(engine))
		answer_next(engine, unit, row, all, &now_ms);
	free(all);
	hs_engine_free(engine);
	return found;
}

static size_t check_rows(const hs_playbook *playbook, const bench_unit *unit)
{
	size_t bad = 0;
	for (const rehearsal *row = unit->rows; row->finding; row++) {
		const char *found = rehearse(playbook, unit, row);
		if (strcmp(found, row->finding) == 0)
			continue;
		print_error("%s: \"%s\" leads to %s, and %s was wanted\n", unit->playbook, row->differs, found, row->finding);
		bad++;
	}
	for (size_t i = 0; i < playbook->step_count; i++) {
		const rehearsal *row = unit->rows;
		while (row->finding && strcmp(row->finding, playbook->steps[i].id) != 0)
			row++;
		if (playbook->steps[i].kind != HS_STEP_FINDING || row->finding)
			continue;
		print_error("%s: nothing rehearses %s\n", unit->playbook, playbook->steps[i].id);
		bad++;
	}
	return bad;
}

static size_t rehearse_all(const bench_unit *unit)
{
	char path[200];
	hs_error error = {0};
	hs_problems problems = {0};
	snprintf(path, sizeof path, "playbooks/%.*s/kit.lua", (int)strcspn(unit->playbook, "/"), unit->playbook);
	hs_sources *kit_sources = hs_sources_from_disk(path, NULL, 0, &error);
	snprintf(path, sizeof path, "playbooks/%s.lua", unit->playbook);
	hs_sources *sources = hs_sources_from_disk(path, NULL, 0, &error);
	assert_non_null(kit_sources);
	assert_non_null(sources);
	hs_kit *kit = hs_kit_load(kit_sources, HS_PLACES_EXACT, &problems, &error);
	hs_book *book = hs_book_open(sources, kit, HS_PLACES_EXACT, &problems, &error);
	if (!book)
		fail_msg("%s: %s", path, error.message);
	hs_playbook_check(hs_book_playbook(book), &problems);
	hs_unit_check(hs_book_playbook(book), &problems);
	assert_int_equal(problems.errors, 0);
	size_t bad = check_rows(hs_book_playbook(book), unit);
	hs_problems_free(&problems);
	hs_book_free(book);
	hs_kit_free(kit);
	hs_sources_free(sources);
	hs_sources_free(kit_sources);
	return bad;
}

static void every_finding_is_rehearsed(void **state)
{
	(void)state;
	static const bench_unit units[] = {
	    {"fell/low-output", fell_healthy, fell}, {"copse/no-output", copse_healthy, copse}, {"garth/low-power", garth_healthy, garth},
	    {"linnet/channel-weak", linnet_healthy, linnet}, {"sill/weak-or-silent", sill_healthy, sill}};
	size_t bad = 0;
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		bad += rehearse_all(&units[i]);
	assert_int_equal(bad, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(every_finding_is_rehearsed)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
