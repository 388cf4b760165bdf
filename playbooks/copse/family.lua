-- Orrin Vale Copse: a mains bench supply, 0 to 40 V at up to 2.5 A, linear, with two pass transistors on the rear fins.
-- What every Copse playbook shares: where energy is, what comes off in which order, where one can read.

unit {
  supply = { mains = { "230 V", zone = "primary", title = "the mains lead" } },
  switch = "the front-panel switch S1",
  stores = {
    -- 10 mF at 56 V: nearly 23 J with line and capacitance at their limits. It is discharged, and kept shorted while hands are inside.
    C7 = { charged = "56 V", farads = "10 mF", bleed = "2.2 kohm", zone = "inside", follows_line = true,
           title = "reservoir C7" },
  },
  rails = {
    P12 = { "12 V", zone = "inside", title = "the +12 V auxiliary rail" },
  },
  zones = {
    inside  = { guard = "top-cover", title = "the regulator side" },
    primary = { guard = "mains-guard", title = "the mains compartment" },
  },
  parts = {
    ["top-cover"]   = { title = "the top cover", fixings = "8 x M3 countersunk", torque = "0.6 N m", needs = "off" },
    ["mains-guard"] = { title = "the mains guard", after = "top-cover", fixings = "4 x M3 pan", torque = "0.6 N m" },
  },
  -- A knob has no positions; what it has is an end stop, and a mark of tape where the owner had it.
  controls = {
    volts   = { "clockwise", "its mark", title = "VOLTS" },
    current = { "clockwise", "its mark", title = "CURRENT" },
  },
  changes = {
    ["p2-parted"]  = { kind = "lifted leg", title = "P2 parted (transformer secondary)", zone = "inside", needs = "dead" },
    ["c7-lifted"]  = { kind = "lifted leg", title = "W5 and W6 off C7", zone = "inside", needs = "dead" },
    ["p7-parted"]  = { kind = "lifted leg", title = "P7 parted (crowbar)", zone = "inside", needs = "dead" },
    ["load-on"]    = { kind = "link", title = "the 20 ohm load across J1", needs = "off" },
  },
}

-- Reached from outside: the mains inlet with its fuse drawer, the output, and the test socket on the rear. Each pin of J9 has 10 kohm
-- in its line, so a slip of the prod shorts nothing.
point "X1"   { title = "X1, mains inlet" }
point "F1"   { title = "F1, mains fuse, out of its drawer" }
point "J1"   { title = "J1, output terminals", dc = "40 V" }
point "J9.1" { title = "J9 pin 1, +12 V auxiliary", dc = "12 V" }
point "J9.2" { title = "J9 pin 2, reference", dc = "5 V" }
point "J9.3" { title = "J9 pin 3, error amplifier output", dc = "12 V" }
point "J9.4" { title = "J9 pin 4, current-limit setting, 1 V an ampere", dc = "5 V" }

-- Behind the mains guard.
point "S1"   { title = "S1, mains switch", zone = "primary", behind = { "mains-guard" } }

-- Behind the top cover.
local inside = {
  { "P2", "P2, transformer secondary, transformer side" },
  { "D1", "D1, bridge rectifier, first winding end to plus" },
  { "D2", "D2, bridge rectifier, second winding end to plus" },
  { "D3", "D3, bridge rectifier, minus to first winding end" },
  { "D4", "D4, bridge rectifier, minus to second winding end" },
  { "Q1", "Q1, pass transistor" },
  { "Q2", "Q2, pass transistor" },
  { "Q3", "Q3, driver" },
}
for _, p in ipairs(inside) do
  point(p[1]) { title = p[2], behind = { "top-cover" } }
end
point "C7" { title = "C7, reservoir, at its own terminals", behind = { "top-cover" }, dc = "56 V" }

-- What makes the output, in volts and without a load: the raw supply, the +12 V made of it, and the reference times eight. What hangs
-- on current (C7 under load, ripple, sagging, limiting, the drive at J9.3) is no level of a chain, and stands in the playbook.
lineup "volts" {
  title = "from the raw supply to J1, no load", levels = "V",
  supply { "raw", title = "raw supply at C7", suspect = "t1", gives = "56 V +/- 10 %", faults = { ["secondary open"] = "dead" } },
  supply { "p12", title = "U1", from = "raw", suspect = "aux", gives = "12 V +/- 2 %", faults = { dead = "dead", low = "gain -1.4 dB" } },
  point { "J9.1", from = "p12" },
  supply { "u2", title = "U2", from = "p12", suspect = "reference", gives = "5 V +/- 0.1 %",
           faults = { dead = "dead", drifted = "gain -0.72 dB" } },
  point { "J9.2", from = "u2" },
  stage { "r33", title = "R33, VOLTS", from = "u2", gain = "0 dB", faults = { worn = "gain -0.92 dB", open = "dead" } },
  stage { "r34", title = "R34", gain = "0 dB", faults = { shifted = "gain 0.32 dB" } },
  stage { "r35", title = "R35", gain = "8 +/- 0.2 %", faults = { high = "gain 0.83 dB" } },
  stage { "amp", title = "U3", gain = "0 dB", supply = "p12", faults = { ["stuck low"] = "dead" } },
  stage { "q3", title = "Q3", gain = "0 dB", supply = "raw", faults = { open = "dead" } },
  port { "J1" },
  stage { "r41", title = "R41, CURRENT", from = "u2", gain = "0.5 +/- 1.3 %", faults = { worn = "gain -15.9 dB", open = "dead" } },
  "J9.4",
}

-- Where things are; the SVG files lie beside this one.
picture "blocks" {
  file = "pictures/blocks.svg", title = "the block diagram",
}
picture "board" {
  file = "pictures/board.svg", title = "the regulator side",
  marks = {
    P2 = "beside T1, towards the front",
    C7 = "middle, the big can",
    Q1 = "on the fins, left",
    Q2 = "on the fins, middle",
    Q3 = "on the fins, right",
    S1 = "under the mains guard, front left",
    D1 = "bridge, back left",
    D2 = "bridge, back right",
    D3 = "bridge, front left",
    D4 = "bridge, front right",
    R34 = "front right corner of the board",
    Q9 = "before C7",
  },
}
picture "connectors" {
  file = "pictures/connectors.svg", title = "the connectors and knobs",
  marks = {
    J1 = "front, right",
    X1 = "rear, left",
    F1 = "rear, drawer right of X1",
    ["J9.1"] = "rear, test socket, first pin from the left",
    ["J9.2"] = "rear, test socket, second pin",
    ["J9.3"] = "rear, test socket, third pin",
    ["J9.4"] = "rear, test socket, last pin",
    lamp = "front, far left",
    VOLTS = "front, middle left",
    CURRENT = "front, middle right",
  },
}
-- What a Copse asks of a shop's leads. A hookup of the same name in the kit fills a role; `bind` gives it another.
role "prods" {
  title = "for the terminals, and for what is read dead",
  reads = { "volts", "ac volts", "ohms", "continuity", "diode" },
}
role "clip leads" { title = "insulated clips, attached dead and read under power", reads = "volts", range = "0 V .. 70 V", u = "0.3 V" }
