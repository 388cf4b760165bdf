-- Tarnbeck Sill: a two-band FM receiver, 140 to 160 MHz (VHF) and 440 to 460 MHz (UHF), with squelch and AGC, fed with 13.8 V DC. No
-- mains, nothing that bites; a lead the wrong way round and a charged sleeve are what it dies of. What every Sill playbook shares.

unit {
  supply = { dc13 = { "13.8 V", title = "the 13.8 V lead at P1" } },
  switch = "the bench supply's output switch",
  rails  = { P9 = { "9 V", title = "the +9 V rail" }, P5 = { "5 V", title = "the +5 V rail" } },
  -- A tenth of a joule with line and capacitance at their limits.
  stores = {
    C60 = { charged = "13.8 V", farads = "470 uF", bleed = "1 kohm", follows_line = true, title = "C60, across the 13.8 V feed" },
  },
  zones  = { inside = { guard = "top-cover", title = "the receiver tray" } },
  parts  = {
    ["top-cover"] = { title = "the top cover", fixings = "8 x M3 countersunk", torque = "0.6 N m", needs = "off" },
  },
  changes = {
    ["x9-parted"] = { kind = "lifted leg", title = "X9 parted (9 V for the signal board)", zone = "inside", needs = "off" },
  },
  controls = {
    band    = { "vhf", "uhf", title = "BAND" },
    agc     = { "on", "off", title = "AGC" },
    squelch = { "open", "tight", "its mark", title = "SQUELCH" },
    volume  = { "middle", "its mark", title = "VOLUME" },
  },
  tools = { "wrist strap, checked today: the input transistors are static-sensitive", "insulated trimmer tool" },
}

-- Reached from outside. Each pin of J9 has 10 kohm in its line, so a slip of the prod shorts nothing.
point "P1"   { title = "P1, 13.8 V input", dc = "13.8 V" }
point "J1"   { title = "J1, antenna input", accepts = "+10 dBm", impedance = "50 ohm", connector = "N female" }
point "J3"   { title = "J3, loudspeaker socket", impedance = "8 ohm" }
point "J9.1" { title = "J9 pin 1, AGC volts", dc = "5 V" }
point "J9.2" { title = "J9 pin 2, noise volts of the squelch", dc = "5 V" }
point "J9.3" { title = "J9 pin 3, squelch threshold", dc = "5 V" }
point "J9.4" { title = "J9 pin 4, mute line", dc = "5 V" }

-- On SMB sockets along the tray's edge, 20 dB below the line but for TP8.
local sampled = {
  { "TP1", "TP1, after the front end", "-20 dBm" },
  { "TP2", "TP2, first oscillator", "-5 dBm" },
  { "TP3", "TP3, 45 MHz after the first mixer", "-20 dBm" },
  { "TP4", "TP4, 45 MHz after Q3", "-10 dBm" },
  { "TP5", "TP5, 455 kHz after FL4", "-10 dBm" },
  { "TP6", "TP6, 455 kHz after U3", "-10 dBm" },
  { "TP7", "TP7, second oscillator", "-10 dBm" },
  { "TP8", "TP8, 12.8 MHz reference", "+5 dBm" },
}
for _, p in ipairs(sampled) do
  point(p[1]) { title = p[2], behind = { "top-cover" }, gives = p[3], impedance = "50 ohm", connector = "SMB male" }
end

-- On pins.
point "TP9"  { title = "TP9, audio out of the detector", behind = { "top-cover" } }
point "TP10" { title = "TP10, audio behind the squelch gate", behind = { "top-cover" } }
point "TP11" { title = "TP11, audio behind VOLUME", behind = { "top-cover" } }
point "TP12" { title = "TP12, 13.8 V behind F1", behind = { "top-cover" }, dc = "13.8 V" }
point "TP13" { title = "TP13, +9 V, on the regulator's side of X9", behind = { "top-cover" }, dc = "9 V" }
point "TP14" { title = "TP14, +5 V", behind = { "top-cover" }, dc = "5 V" }
point "TP15" { title = "TP15, feed of the VHF front end", behind = { "top-cover" }, dc = "9 V" }
point "TP16" { title = "TP16, feed of the UHF front end", behind = { "top-cover" }, dc = "9 V" }
point "TP18" { title = "TP18, collector of Q3", behind = { "top-cover" }, dc = "9 V" }
point "F1"   { title = "F1, 13.8 V fuse", behind = { "top-cover" } }
point "D1"   { title = "D1, input limiter", behind = { "top-cover" } }
point "K1"   { title = "K1, band relay", behind = { "top-cover" } }

-- What a Sill asks of a shop's leads.
role "source lead" { kind = "source", title = "signal into J1, with a pad at the unit", freq = "150 MHz .. 450 MHz", range = "-113 dBm .. -30 dBm", loss = "8 dB at 450 MHz" }
role "edge lead"   { title = "to the sockets along the tray's edge", reads = "power", freq = "455 kHz .. 450 MHz", range = "-110 dBm .. 0 dBm", u = "0.8 dB" }
role "audio lead"  { title = "to J3 and the audio pins", reads = { "ac volts", "sinad" } }
role "prods"       { title = "for the rails, J9, and what is read dead", reads = { "volts", "ohms", "continuity", "diode" } }

-- From J1 to the detector: 150 or 450 MHz, 45 MHz, 455 kHz.
lineup "signal" {
  title = "150 or 450 MHz to 45 MHz to 455 kHz", impedance = "50 ohm",
  port { "J1" },
  stage { "w1", loss = "0.3 dB +/- 0.1 dB", faults = { ["poor joint"] = "resistive 400 ohm" } },
  stage { "d1", loss = "0.2 dB +/- 0.1 dB", faults = { leaky = "leaky 4 ohm", short = "short" } },
  switch { "k1", by = "band", loss = "0.2 dB +/- 0.1 dB", faults = { ["stuck at VHF"] = "stuck vhf", ["stuck at UHF"] = "stuck uhf" }, ways = {
    vhf = {
      stage { "fl1", loss = { ["150 MHz"] = "2.5 dB", ["450 MHz"] = "50 dB" }, tolerance = "0.5 dB", faults = { detuned = "gain -14 dB", open = "gain -40 dB" } },
      stage { "q1", gain = "14 dB +/- 1 dB", nf = "1.5 dB", supply = "vhf-feed", faults = { ["low gain"] = "gain -14 dB" } },
    },
    uhf = {
      stage { "fl2", loss = { ["150 MHz"] = "55 dB", ["450 MHz"] = "3 dB" }, tolerance = "0.5 dB", faults = { detuned = "gain -14 dB", open = "gain -40 dB" } },
      stage { "q2", gain = "13.5 dB +/- 1 dB", nf = "2 dB", supply = "uhf-feed", faults = { ["low gain"] = "gain -14 dB" } },
    },
  } },
  point { "TP1", tap = "20 dB +/- 0.3 dB" },
  mixer { "u1", loss = "6.5 dB +/- 0.5 dB", nf = "7 dB", lo_from = "TP2", needs = "+6 dBm", max = { average = "+17 dBm" }, faults = { ["open diode"] = "gain -18 dB" } },
  point { "TP3", tap = "20 dB +/- 0.3 dB" },
  stage { "fl3", loss = "3 dB +/- 0.3 dB", faults = { cracked = "gain -18 dB", open = "gain -50 dB" } },
  -- AGC acts on Q3. A leaky line holds it back wherever the switch stands, U6 only where it is on.
  switch { "s4", by = "agc", ways = {
    on  = { levelling { "agc", suspect = "u6", holds = "-10 dBm +/- 1 dB", at = "TP6", range = "50 dB", faults = { lost = "lost", ["pulls down"] = "held" } } },
    off = {},
  } },
  stage { "c35", gain = "0 dB", faults = { leaky = "gain -40 dB" } },
  stage { "q3", gain = "20 dB +/- 0.7 dB", nf = "2 dB", supply = "p9", faults = { ["low gain"] = "gain -18 dB" } },
  point { "TP4", tap = "20 dB +/- 0.3 dB" },
  mixer { "u2", gain = "10 dB +/- 0.7 dB", nf = "9 dB", lo_from = "TP7", needs = "-6 dBm", supply = "p9", faults = { ["low gain"] = "gain -18 dB" } },
  stage { "fl4", loss = "4 dB +/- 0.5 dB", faults = { shifted = "gain -20 dB" } },
  point { "TP5", tap = "20 dB +/- 0.3 dB" },
  stage { "u3", gain = "25 dB +/- 1 dB", nf = "6 dB", holds = "+3 dBm +/- 1 dB", supply = "p9", faults = { ["low gain"] = "gain -20 dB" } },
  point { "TP6", tap = "20 dB +/- 0.3 dB" },

  oscillator { "reference", gives = "0 dBm +/- 1 dB", freq = "12.8 MHz", supply = "p5", faults = { weak = "gain -15 dB" } },
  point { "TP8", from = "reference" },
  oscillator { "synth", gives = "+3 dBm +/- 0.5 dB", freq = { band = { vhf = "195 MHz", uhf = "405 MHz" } }, locks = "reference", needs = "-10 dBm", supply = "p5" },
  switch { "vco", by = "band", ways = {
    vhf = { stage { "vco-vhf", gain = "0 dB +/- 0.3 dB" } },
    uhf = { stage { "vco-uhf", gain = "0 dB +/- 0.3 dB" } },
  } },
  stage { "q8", gain = "6 dB +/- 0.5 dB", supply = "p9", faults = { ["low level"] = "gain -15 dB" } },
  point { "TP2", tap = "20 dB +/- 0.3 dB" },
  oscillator { "y2", gives = "0 dBm +/- 1 dB", freq = "44.545 MHz", supply = "p9" },
  point { "TP7", tap = "20 dB +/- 0.3 dB" },

  supply { "bus", suspect = "fuse", gives = "13.6 V +/- 3 %", faults = { open = "dead" } },
  point { "TP12", from = "bus" },
  supply { "p9", suspect = "u9", from = "bus", gives = "9 V +/- 2 %", faults = { low = "gain -2 dB" } },
  point { "TP13", from = "p9" },
  supply { "p5", suspect = "u10", from = "bus", gives = "5 V +/- 2 %" },
  point { "TP14", from = "p5" },
  supply { "vhf-feed", suspect = "q5", from = "p9", gives = "8.7 V +/- 2 %", faults = { open = "dead" } },
  point { "TP15", from = "vhf-feed" },
  supply { "uhf-feed", suspect = "q6", from = "p9", gives = "8.7 V +/- 2 %", faults = { open = "dead" } },
  point { "TP16", from = "uhf-feed" },
}

-- Behind the detector: 1 kHz at 3 kHz deviation gives 0.25 V, whatever comes to J1 as long as it is not noise.
lineup "audio" {
  title = "from the detector to J3", impedance = "10 kohm", levels = "V",
  oscillator { "u4", gives = "0.25 V +/- 10 %", freq = "1 kHz", faults = { weak = "gain -10 dB" } },
  point { "TP9" },
  stage { "q7", gain = "0 dB +/- 0.2 dB", faults = { ["stuck shut"] = "dead" } },
  point { "TP10" },
  stage { "r20", loss = "12 dB +/- 1 dB", faults = { open = "dead" } },
  point { "TP11" },
  stage { "u5", gain = "26 dB +/- 1 dB" },
  point { "J3" },
}

-- Where things are; the SVG files lie beside this one.
picture "blocks" { file = "pictures/blocks.svg", title = "the block diagram" }
picture "board" {
  file = "pictures/board.svg", title = "the receiver tray",
  marks = {
    TP1 = "first SMB socket from the left, front edge", TP2 = "second SMB socket, front edge", TP3 = "third SMB socket, front edge",
    TP4 = "fourth SMB socket, front edge", TP5 = "fifth SMB socket, front edge", TP6 = "sixth SMB socket, front edge",
    TP7 = "seventh SMB socket, front edge", TP8 = "last SMB socket, front edge",
    TP9 = "pin behind U4", TP10 = "pin behind Q7", TP11 = "pin beside U5", TP12 = "pin behind F1", TP13 = "pin beside X9",
    TP14 = "pin behind U10", TP15 = "pin beside Q5", TP16 = "pin beside Q6", TP18 = "pin beside Q3", F1 = "rear left, clips",
    D1 = "rear right, under W1", K1 = "beside D1", FL1 = "right, its trimmers C4 and C5", FL2 = "right, its trimmers C14 and C15",
    FL4 = "middle, blue, three pins", U11 = "middle, LOCK lamp beside it",
  },
}
picture "connectors" {
  file = "pictures/connectors.svg", title = "the connectors, knobs and lamps",
  marks = {
    J1 = "rear, right, N", J3 = "rear, third, loudspeaker", P1 = "rear, far left", ["J9.1"] = "rear, test socket, first pin",
    ["J9.2"] = "rear, test socket, second pin", ["J9.3"] = "rear, test socket, third pin", ["J9.4"] = "rear, test socket, fourth pin", R31 = "rear, beside the test socket, through a hole",
    POWER = "front, far left", BAND = "front, first knob", SQUELCH = "front, third knob",
  },
}
chain "signal" { "J1", "w1", "d1", "k1", "fl1", "q1", "fl2", "q2", "TP1", "u1", "TP3", "fl3", "q3", "TP4", "u2", "fl4", "TP5", "u3", "TP6", "u4",
                 title = "from J1 to the detector; FL1 and Q1 in VHF, FL2 and Q2 in UHF" }
chain "audio" { "u4", "TP9", "q7", "TP10", "r20", "TP11", "u5", "J3", "speaker", title = "from the detector to the loudspeaker" }
chain "oscillator" { "reference", "TP8", "synth", "vco-vhf", "vco-uhf", "q8", "TP2", "u1", title = "the first oscillator, into the mixer" }
