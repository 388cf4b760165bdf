-- Orrin Vale Linnet: a mixing desk of eight channels into a left and a right bus, mains-fed, with +/-17 V for its strips and 48 V for
-- microphones. What every Linnet playbook shares: where energy is, what comes off in which order, where one can read.
-- The strip that is complained about is "the channel", whichever it is; the one beside it, with which it is compared, is "the neighbour".

unit {
  supply = { mains = { "230 V", zone = "primary", title = "the mains lead" } },
  switch = "the rear-panel mains switch",
  -- The reservoirs stand beside the transformer, under the mains guard: under 60 V, but 3 J each would weld a ring.
  stores = {
    C90 = { charged = "27 V", farads = "4.7 mF", bleed = "2.2 kohm", zone = "primary", follows_line = true,
            title = "C90, reservoir of +17 V" },
    C91 = { charged = "27 V", farads = "4.7 mF", bleed = "2.2 kohm", zone = "primary", follows_line = true,
            title = "C91, reservoir of -17 V" },
    C48 = { charged = "48 V", farads = "100 uF", bleed = "47 kohm", zone = "inside", title = "C48, across the 48 V line" },
  },
  rails = {
    P17 = { "17 V", zone = "inside", title = "the +17 V rail" },
    N17 = { "-17 V", zone = "inside", title = "the -17 V rail" },
    -- IEC 61938: 48 V +/- 4 V behind 6.81 kohm in each leg.
    P48 = { "52 V", zone = "inside", max = true, title = "the 48 V line for microphones" },
  },
  zones = {
    inside  = { guard = "bottom-cover", title = "the strips, from below" },
    primary = { guard = "mains-guard", title = "the mains compartment" },
  },
  parts = {
    ["bottom-cover"] = { title = "the bottom cover", fixings = "14 x M3 pan", torque = "0.6 N m", needs = "off" },
    ["mains-guard"]  = { title = "the mains guard", after = "bottom-cover", fixings = "6 x M3 pan", torque = "0.6 N m" },
  },
  controls = {
    p48   = { "off", "on", title = "P48 of the channel" },
    pad   = { "out", "in", title = "PAD of the channel" },
    gain  = { "40", "owner's own", title = "GAIN of the channel" },
    hpf   = { "out", "in", title = "LOW CUT of the channel" },
    eq    = { "out", "in", title = "EQ of the channel" },
    fader = { "0 mark", "down", "owner's own", title = "the fader of the channel" },
    mute  = { "off", "on", title = "MUTE of the channel" },
    pan   = { "centre", "owner's own", title = "PAN of the channel" },
    main  = { "0 mark", "owner's own", title = "the main fader" },
    beside     = { "alike", "owner's own", title = "the neighbour's row of knobs" },
    ["p48-beside"] = { "off", "on", title = "P48 of the neighbour" },
  },
}

-- Reached from outside. J1 carries 48 V when P48 is on: a lead is joined there with the power off, and P48 off before that.
point "J1"    { title = "J1, microphone input of the channel", accepts = "+10 dBu", impedance = "2 kohm", dc = "52 V" }
point "J1.2"  { title = "J1 pin 2", dc = "52 V" }
point "J1.3"  { title = "J1 pin 3", dc = "52 V" }
point "J11"   { title = "J11, microphone input of the neighbour", accepts = "+10 dBu", impedance = "2 kohm", dc = "52 V" }
point "J11.2" { title = "J11 pin 2", dc = "52 V" }
point "J2"    { title = "J2, left main output", gives = "+24 dBu" }
point "J22"   { title = "J22, right main output", gives = "+24 dBu" }

-- On pins and parts behind the bottom cover.
local inside = {
  { "TP1", "TP1, behind the microphone amplifier" },
  { "TP2", "TP2, behind the equaliser" },
  { "TP3", "TP3, behind the insert" },
  { "TP4", "TP4, behind the fader amplifier" },
  { "TP5", "TP5, behind the mute" },
  { "TP8", "TP8, mute line", "17 V" },
  { "TP10", "TP10, left leg of PAN" },
  { "TP11", "TP11, right leg of PAN" },
  { "TP12", "TP12, behind the left bus amplifier" },
  { "TP13", "TP13, behind the right bus amplifier" },
  { "TP14", "TP14, left, behind the main fader" },
  { "TP15", "TP15, right, behind the main fader" },
  { "TP21", "TP21, the neighbour's TP1" },
  { "TP6", "TP6, +17 V on the strip, behind R70", "17 V" },
  { "TP7", "TP7, -17 V on the strip, behind R71", "17 V" },
  { "B1", "B1, +17 V bus bar", "17 V" },
  { "B2", "B2, -17 V bus bar", "17 V" },
  { "J3", "J3, insert jack of the channel, its contacts" },
  { "R70", "R70, fusible resistor of +17 V" },
  { "R71", "R71, fusible resistor of -17 V" },
  { "C1", "C1, input capacitor of pin 2" },
  { "C2", "C2, input capacitor of pin 3" },
  { "S5", "S5, GAIN switch, its two contacts" },
  { "RV5", "RV5, fader" },
  { "E1", "E1, ground strap of the strips' rail" },
  { "E9", "E9, ground screw of the strip" },
}
for _, p in ipairs(inside) do
  point(p[1]) { title = p[2], behind = { "bottom-cover" }, dc = p[3] }
end

-- What a Linnet asks of a shop's leads. A hookup of the same name in the kit fills a role; `bind` gives it another.
role "tone lead" {
  kind = "source", title = "a balanced source of 150 ohm into J1 or J11; it stands 48 V at its output",
  freq = "20 Hz .. 20 kHz", range = "1 mV .. 0.1 V",
}
role "Y lead" { kind = "source", title = "the same source into J1 and J11 at once", freq = "20 Hz .. 20 kHz", range = "1 mV .. 0.1 V" }
role "output lead" { title = "to J2 and J22, balanced", reads = { "ac volts", "percent" }, freq = "20 Hz .. 20 kHz" }
role "hook lead" { title = "screened, to the test pins", reads = { "ac volts", "percent" }, freq = "20 Hz .. 20 kHz" }
role "prods" { title = "for DC, and for what is read dead", reads = { "volts", "ac volts", "ohms", "continuity", "capacitance" } }

-- What of the desk lies behind the channels, once for each side; `from` feeds it.
local function side(name, from, out, points, more)
  local open, dead = name .. " open", name .. " dead"
  local elements = more or {}
  for _, element in ipairs {
    stage { "bus-" .. name, title = "bus amplifier, " .. name, from = from, suspect = "a5", gain = "0 dB +/- 0.1 dB",
            faults = { [dead] = "dead" } },
    points[1],
    stage { "main-" .. name, title = "main fader, " .. name, suspect = "rv91", loss = "10 dB +/- 0.3 dB",
            faults = { [name .. " worn"] = "gain -9 dB" } },
    points[2],
    stage { "line-" .. name, title = "line amplifier, " .. name, suspect = "a7", gain = "16 dB +/- 0.1 dB", p1db = "+24 dBu",
            faults = { [dead] = "dead", [name .. " one leg"] = "gain -6 dB" } },
    port { out },
  } do
    table.insert(elements, element)
  end
  return elements
end

-- The channel's own legs into the buses.
local function leg(name, point_id, resistor)
  local open = name .. " open"
  return {
    stage { "pan-" .. name, title = "PAN, " .. name, from = "rv6", suspect = "rv6", loss = "3 dB +/- 0.2 dB",
            faults = { [open] = "dead" } },
    point_id,
    stage { resistor, title = resistor .. ", into the bus", suspect = "r60", gain = "0 dB", faults = { [open] = "dead" } },
  }
end

-- GAIN stands at 40 here, and every level is a sum for the head: -40 dBu in, 0 dBu on the strip, -3.1 dBu into the buses, +2.9 dBu out.
local channel = {
  title = "one channel, from J1 to both outputs", impedance = "10 kohm",
  port { "J1" },
  stage { "j1", title = "J1 and its leads", gain = "0 dB", impedance = "2 kohm",
          faults = { ["pin open"] = "gain -6 dB", ["poor contact"] = "resistive 10 kohm" } },
  switch { "s2", title = "PAD", by = "pad", faults = { ["stuck in"] = "stuck in", ["stuck out"] = "stuck out" }, ways = {
    out = {}, ["in"] = { stage { "pad", loss = "20 dB +/- 0.2 dB" } },
  } },
  stage { "c1", title = "C1 and C2", gain = "0 dB", impedance = "2 kohm",
          faults = { ["one leg open"] = "gain -6 dB", dried = "open 0.33 uF" } },
  stage { "s5", title = "GAIN switch", gain = "0 dB", faults = { ["contact open"] = "gain -30 dB", ["too high"] = "gain 20 dB" } },
  stage { "a1", title = "microphone amplifier", gain = "40 dB +/- 0.3 dB", p1db = "+20 dBu", faults = { ["low gain"] = "gain -10 dB" } },
  "TP1",
  -- Second order, 3 dB down at 80 Hz: 10 log10(1 + (80/f)^4).
  switch { "s3", title = "LOW CUT", by = "hpf", faults = { ["stuck in"] = "stuck in" }, ways = {
    out = { stage { "cut-out", suspect = "s3", gain = "0 dB", faults = { ["dirty contact"] = "resistive 100 kohm" } } },
    ["in"] = { stage { "cut-in", tolerance = "0.3 dB", gain = { ["20 Hz"] = "-24.1 dB", ["50 Hz"] = "-8.8 dB", ["80 Hz"] = "-3 dB",
                                                                ["1 kHz"] = "0 dB", ["20 kHz"] = "0 dB" } } },
  } },
  stage { "a2", title = "A2, behind LOW CUT", gain = "0 dB +/- 0.1 dB" },
  switch { "s4", title = "EQ switch", by = "eq", ways = {
    out = { stage { "eq-out", suspect = "s4", gain = "0 dB", faults = { ["dirty contact"] = "resistive 100 kohm" } } },
    ["in"] = { stage { "a3", title = "A3, equaliser", gain = "0 dB +/- 0.2 dB", faults = { ["low gain"] = "gain -8 dB" } } },
  } },
  "TP2",
  stage { "c30", title = "C30, into the insert", gain = "0 dB", faults = { open = "open 1 nF", dried = "open 0.1 uF" } },
  stage { "j3", title = "J3, its normal contact", gain = "0 dB", faults = { oxidised = "resistive 80 kohm", ["does not close"] = "dead" } },
  "TP3",
  stage { "rv5", title = "RV5, fader", loss = "10 dB +/- 0.3 dB", faults = { worn = "gain -8 dB", ["wiper open"] = "dead" } },
  stage { "a4", title = "A4, fader amplifier", gain = "10 dB +/- 0.1 dB", p1db = "+20 dBu", faults = { ["low gain"] = "gain -10 dB" } },
  "TP4",
  stage { "q5", title = "Q5, mute", loss = "0.1 dB +/- 0.05 dB", faults = { ["stuck muting"] = "dead", ["half on"] = "gain -12 dB" } },
  stage { "u6", title = "what drives Q5", gain = "0 dB", faults = { ["stuck muting"] = "dead" } },
  "TP5",
  stage { "rv6", title = "PAN, its wiper", gain = "0 dB", faults = { ["wiper open"] = "dead" } },
}
-- Both channels at once, by the Y lead: the neighbour's microphone amplifier hangs on the same source.
local by_y_lead = {
  stage { "a1-beside", title = "the neighbour's microphone amplifier", from = "J1", gain = "40 dB +/- 0.3 dB" },
  "TP21",
}
for _, part in ipairs {
  side("left", nil, "J2", { "TP12", "TP14" }, leg("left", "TP10", "R60")),
  side("right", nil, "J22", { "TP13", "TP15" }, leg("right", "TP11", "R61")),
  by_y_lead,
} do
  for _, element in ipairs(part) do table.insert(channel, element) end
end
lineup "channel" (channel)

-- The neighbour alone, through the same buses, with its knobs as those of the channel stand.
local neighbour = {
  title = "the neighbour, from J11 to both outputs", impedance = "10 kohm",
  port { "J11" },
  stage { "strip-beside", title = "the neighbour's strip", gain = "36.9 dB +/- 0.6 dB" },
}
for _, part in ipairs {
  side("left", "strip-beside", "J2", { "TP12", "TP14" }),
  side("right", "strip-beside", "J22", { "TP13", "TP15" }),
} do
  for _, element in ipairs(part) do table.insert(neighbour, element) end
end
lineup "neighbour" (neighbour)

-- Where things are; the SVG files lie beside this one.
picture "blocks" {
  file = "pictures/blocks.svg", title = "the block diagram",
}
picture "board" {
  file = "pictures/board.svg", title = "a strip from below, J1 to the left",
  marks = {
    J1 = "rear end, left, XLR",
    C1 = "beside J1, the upper of the two",
    C2 = "beside J1, the lower of the two",
    S5 = "below A1, the rotary",
    TP1 = "first pin along the edge",
    TP2 = "second pin, behind A3",
    J3 = "rear end, the jack below J1",
    TP3 = "third pin, between C30 and RV5",
    RV5 = "the long part in the middle",
    TP4 = "fourth pin, behind A4",
    TP8 = "pin beside Q5, marked MUTE",
    TP5 = "fifth pin, behind Q5",
    TP10 = "left of the two pins at PAN",
    TP11 = "right of the two pins at PAN",
    R70 = "beside the ribbon, the left of two",
    R71 = "beside the ribbon, the right of two",
    TP6 = "left of C70, the first pin",
    TP7 = "left of C70, the second pin",
    E9 = "screw beside J1",
  },
}
picture "frame" {
  file = "pictures/frame.svg", title = "the desk from below, its front towards you",
  marks = {
    J11 = "rear, the XLR beside J1",
    J2 = "rear, right, the left XLR of two",
    J22 = "rear, right, the right XLR of two",
    TP12 = "master board, first pin",
    TP13 = "master board, second pin",
    TP14 = "master board, third pin",
    TP15 = "master board, fourth pin",
    TP21 = "on the strip beside, first pin along its edge",
    B1 = "rear bus bar",
    B2 = "front bus bar",
    E1 = "braid from the strips' rail, at the star screw",
  },
}
