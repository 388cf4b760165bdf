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
