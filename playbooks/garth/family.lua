-- Tarnbeck Garth: a VHF amplifier, 10 mW in and 50 W out around 145 MHz, fed with 28 V DC. No mains, and nothing inside that bites
-- while it is not keyed; keyed, it burns. What every Garth playbook shares: where energy is, what comes off, where one can read.

unit {
  supply = { dc28 = { "28 V", title = "the 28 V lead at P1" } },
  switch = "the bench supply's output switch",
  rails  = { P12 = { "12 V", title = "the +12 V rail" } },
  -- Small enough to be no danger by itself: a fifth of a joule with line and capacitance at their limits.
  stores = {
    C60 = { charged = "28 V", farads = "330 uF", bleed = "2.2 kohm", follows_line = true, title = "C60, across the 28 V feed" },
  },
  -- W2 gives the driver's 5 W where it is parted; nothing is joined there either while it could be keyed.
  -- The bias of driver and final comes up with the key line (TP11) and not before, so drive alone brings out nothing.
  emits  = { J2 = { rf = "50 W", key = "5 s", drive = false }, W2 = { rf = "5 W", key = "5 s", drive = false } },
  zones  = { inside = { guard = "top-cover", title = "the amplifier tray" } },
  parts  = {
    ["top-cover"] = { title = "the top cover", fixings = "12 x M3 countersunk", torque = "0.6 N m", needs = "off" },
  },
  -- The two joints where the signal's way can be opened, before the final and behind it, and the link that closes the levelling loop.
  breaks = {
    w2 = { title = "W2 at the final's side", connector = "SMA", torque = "0.9 N m", zone = "inside",
           terminate = "a 50 ohm SMA termination on the final's input" },
    w3 = { title = "W3 at the filter bank's side", connector = "N", torque = "1.2 N m", zone = "inside",
           terminate = "a 50 ohm, 100 W load on W3, whatever you mean to do: somebody will key it" },
    x4 = { title = "the levelling link X4", zone = "inside" },
  },
  changes = {
    ["f1-out"]    = { kind = "lifted leg", title = "F1 out of its clips", zone = "inside", needs = "dead" },
    ["l9-lifted"] = { kind = "lifted leg", title = "L9 lifted at the 28 V bus (feed of the final)", zone = "inside", needs = "dead" },
  },
  controls = {
    band = { "low", "high", title = "BAND" },
    pad  = { "0 dB", "10 dB", title = "PAD" },
  },
}

-- Reached from outside.
point "P1"   { title = "P1, 28 V input", dc = "28 V" }
point "J1"   { title = "J1, drive input", accepts = "+20 dBm", impedance = "50 ohm" }
point "J2"   { title = "J2, output", gives = "50 W", impedance = "50 ohm" }
point "fins" { title = "the fins, middle of the right-hand row" }

-- Sampled out of the line on SMA sockets along the tray's edge: TP1 20 dB down, TP2 30 dB, all behind the final 40 dB.
local sampled = {
  { "TP1", "TP1, after the first stage", "+8 dBm" },
  { "TP2", "TP2, drive of the final", "+10 dBm" },
  { "TP3", "TP3, after the final", "+11 dBm" },
  { "TP4", "TP4, forward arm of the coupler", "+11 dBm" },
  { "TP5", "TP5, reverse arm of the coupler", "+8 dBm" },
}
for _, p in ipairs(sampled) do
  point(p[1]) { title = p[2], behind = { "top-cover" }, gives = p[3], impedance = "50 ohm" }
end

-- Reached when a joint is parted.
point "W2"  { title = "W2, the free end", behind = { "top-cover", "w2" }, gives = "5 W", impedance = "50 ohm" }
point "Q3"  { title = "the final's input, as it stands open", behind = { "top-cover", "w2" }, dc = "4 V" }
point "W3"  { title = "W3, the free end", behind = { "top-cover", "w3" } }
point "J5"  { title = "J5, input of the filter bank", behind = { "top-cover", "w3" }, accepts = "+48 dBm", impedance = "50 ohm" }

-- DC, on pins behind the cover.
point "TP6"  { title = "TP6, 28 V bus behind F1", behind = { "top-cover" }, dc = "28 V" }
point "TP7"  { title = "TP7, bias of the final", behind = { "top-cover" }, dc = "4 V" }
point "TP8"  { title = "TP8, +12 V", behind = { "top-cover" }, dc = "12 V" }
point "TP10" { title = "TP10, drain of the final, behind L9", behind = { "top-cover" }, dc = "28 V" }
point "TP11" { title = "TP11, key line", behind = { "top-cover" }, dc = "12 V" }
point "R44"  { title = "R44, damping of the final's input", behind = { "top-cover" } }
point "RT1"  { title = "RT1, temperature sensor, at its plug", behind = { "top-cover" } }

-- The signal's way, 47.5 dBm at J2 for 10 dBm at J1 with X4 parted, 47 dBm with the levelling at work, and the volts that feed it.
-- Everything up to TP3 is tapped on the line; what the final compresses is in its P1dB.
lineup "signal" {
  title = "145 MHz, from J1 to J2", impedance = "50 ohm",
  port { "J1" },
  switch { "pad", title = "K1, PAD", by = "pad", faults = { ["stuck at 10 dB"] = "stuck 10 dB" }, ways = {
    ["0 dB"]  = { stage { "pad-out", title = "PAD out", suspect = "pad", gain = "0 dB +/- 0.05 dB", faults = { ["poor contact"] = "resistive 100 ohm" } } },
    ["10 dB"] = { stage { "pad-in", title = "PAD in", suspect = "pad", loss = "10 dB +/- 0.3 dB" } },
  } },
  levelling { "alc", title = "levelling", suspect = "u5", holds = "7 dBm +/- 0.2 dB", at = "x4", range = "6 dB" },
  stage { "a1", title = "A1", gain = "12 dB +/- 0.2 dB", max = { average = "17 dBm" }, supply = "p12", faults = { ["low gain"] = "gain -5 dB" } },
  point { "TP1", tap = "20 dB +/- 0.2 dB" },
  stage { "c8", title = "C8", gain = "0 dB", faults = { shifted = "gain -4 dB" } },
  stage { "a2", title = "A2", gain = "15 dB +/- 0.2 dB", max = { average = "27 dBm" }, supply = "bus", faults = { ["low gain"] = "gain -5 dB" } },
  stage { "w2", title = "W2", gain = "0 dB" },
  "W2",
  joint { "w2-joint", title = "W2 at the final's side", breaks = "w2" },
  stage { "q3-in", title = "gate of Q3", suspect = "q3", gain = "0 dB", max = { average = "41 dBm" }, faults = { ["input short"] = "short 2 ohm" } },
  point { "TP2", tap = "30 dB +/- 0.2 dB" },
  stage { "bias", title = "R31, by the bias", gain = "0 dB", faults = { shifted = "gain -5 dB" } },
  stage { "u3", title = "U3, by the bias", gain = "0 dB", faults = { dead = "gain -12 dB" } },
  stage { "q3", title = "Q3", gain = "12 dB +/- 0.3 dB", p1db = "49 dBm", supply = "l9",
          faults = { ["low gain"] = "gain -6 dB", ["gate leaky"] = "gain -10 dB" } },
  stage { "match", title = "C41", gain = "0 dB", faults = { shifted = "gain -5 dB" } },
  point { "TP3", tap = "40 dB +/- 0.2 dB" },
  stage { "w3", title = "W3", gain = "0 dB", faults = { ["poor joint"] = "resistive 80 ohm" } },
  stage { "plugs", title = "the plugs inside", suspect = "joints", gain = "0 dB",
          faults = { loose = "resistive 80 ohm", burnt = "leaky 40 ohm" } },
  joint { "w3-joint", title = "W3 at the filter bank's side", breaks = "w3" },
  "J5",
  switch { "k2", title = "K2, BAND", by = "band", faults = { stuck = "open 0.5 pF", ["poor contact"] = "gain -5 dB" }, ways = {
    low  = { stage { "f-low",  title = "FL1, LOW",  loss = "0.6 dB +/- 0.1 dB", faults = { ["burnt capacitor"] = "gain -6 dB" } } },
    high = { stage { "f-high", title = "FL2, HIGH", loss = "0.6 dB +/- 0.1 dB", faults = { ["burnt capacitor"] = "gain -6 dB" } } },
  } },
  -- D4, U5 and X4 stand between the forward arm and what holds A1 back. RT1 makes U5 hold back as well.
  coupler { "coupler", loss = "0.2 dB +/- 0.05 dB", coupling = "40 dB +/- 0.1 dB", directivity = "20 dB",
    forward = {
      "TP4",
      stage { "d4",  title = "D4", gain = "0 dB", faults = { ["reads high"] = "gain 6 dB" } },
      stage { "rt1", title = "RT1, through U5", gain = "0 dB", faults = { open = "gain 40 dB" } },
      stage { "u5",  title = "U5", gain = "0 dB", faults = { stuck = "gain 40 dB", ["protects for nothing"] = "gain 40 dB" } },
      joint { "x4", title = "X4" },
    },
    reverse = { "TP5" },
  },
  stage { "w4", title = "W4", gain = "0 dB", faults = { ["poor joint"] = "resistive 80 ohm" } },
  port { "J2" },

  supply { "p28", title = "28 V at P1", suspect = "feed-lead", gives = "28 V +/- 1 %", faults = { ["high resistance"] = "gain -1.6 dB", open = "dead" } },
  point { "P1", from = "p28" },
  supply { "bus", title = "28 V behind F1", from = "p28", suspect = "fuse", faults = { open = "dead", ["poor contact"] = "gain -1.6 dB" } },
  point { "TP6", from = "bus" },
  supply { "l9", title = "drain of the final", from = "bus", faults = { ["poor joint"] = "gain -4 dB", open = "dead" } },
  supply { "p12", title = "+12 V", from = "bus", suspect = "reg", gives = "12 V +/- 1.5 %", faults = { low = "gain -4 dB", dead = "dead" } },
  point { "TP8", from = "p12" },
}

-- The same parts once more, in volts at the gate while nothing is driven.
lineup "idle" {
  title = "bias of the final", levels = "V",
  supply { "u3-gives", title = "U3", suspect = "u3", gives = "2.8 V +/- 3 %", faults = { dead = "gain -23 dB" } },
  stage { "r31", title = "R31", from = "u3-gives", suspect = "bias", gain = "0 dB", faults = { shifted = "gain -2.5 dB" } },
  stage { "gate-leak", title = "gate of Q3", suspect = "q3", gain = "0 dB", faults = { ["gate leaky"] = "gain -8 dB" } },
  "TP7",
}

-- Where things are; the SVG files lie beside this one.
picture "blocks" {
  file = "pictures/blocks.svg", title = "the block diagram",
}
picture "board" {
  file = "pictures/board.svg", title = "the amplifier tray",
  marks = {
    TP1 = "first SMA socket from the left, front edge",
    TP2 = "second SMA socket, front edge",
    TP3 = "third SMA socket, front edge",
    TP4 = "fourth SMA socket, front edge",
    TP5 = "last SMA socket, front edge",
    TP6 = "pin behind F1",
    TP7 = "pin before U3",
    TP8 = "pin before U1",
    TP10 = "pin before L9",
    TP11 = "pin before Q7",
    W2 = "back row, left of Q3",
    Q3 = "back right, on the fins",
    W3 = "right, before C41",
    J5 = "at the filter bank",
    R44 = "before W2",
    RT1 = "front right, at its plug",
    F1 = "front left, clips",
    C8 = "back row, between A1 and A2",
    C41 = "right, between Q3 and W3",
    U3 = "front row, R31 beside it",
    U5 = "left, X4 beside it",
  },
}
picture "connectors" {
  file = "pictures/connectors.svg", title = "the connectors, knobs and lamps",
  marks = {
    J1 = "rear, far left",
    J2 = "rear, second, N",
    J3 = "rear, third",
    P1 = "rear, fourth",
    fins = "right-hand side, touch the middle row",
    ON = "front, first lamp",
    KEY = "front, second lamp",
    PROT = "front, third lamp",
    PWR = "front, the bar",
    BAND = "front, left of PAD",
    PAD = "front, far right",
  },
}
-- What a Garth asks of a shop's leads. A hookup of the same name in the kit fills a role; `bind` gives it another.
role "source lead" { kind = "source", title = "drive into J1 and J5", freq = "145 MHz", range = "-10 dBm .. 10 dBm", loss = "1 dB at 145 MHz" }
role "power lead" {
  title = "to the output: the load and the meter in one",
  reads = "power", freq = "145 MHz", range = "-20 dBm .. 18 dBm", u = "0.6 dB", stands = "50 W",
}
role "tap lead" { title = "to the sockets along the tray's edge", reads = "power", freq = "145 MHz", range = "-40 dBm .. 12 dBm", u = "0.6 dB" }
role "prods"    { title = "for what is read dead, and for the terminals", reads = { "volts", "ohms", "continuity" } }
role "pin lead" { title = "to the pins under power: pushed on, so that no hand holds it", reads = "volts", range = "0 V .. 30 V", u = "0.2 V" }
role "clamp"    { title = "around one core of the 28 V lead", reads = "amps", range = "0 A .. 8 A", u = "0.2 A" }
role "thermometer" { reads = "temperature", range = "10 degC .. 100 degC", u = "2 degC" }
