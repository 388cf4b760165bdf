-- The unit the examples of docs/playbooks.md stand in: an amplifier with a mains supply behind a shield. The steps of an example come
-- where HERE stands; the first of them is where the run begins.
playbook {
  id = "step", title = "An example", family = "Tarnbeck Garth",
  first   = { "Take the antenna off J2." },
  symptom = { "the output at J2 is low", under = "mains on", power = "on", tries = 1, absent = "every-end" },
}

unit {
  supply = { mains = { "230 V", zone = "supply" } },
  rails  = { P12 = { "12 V", zone = "inside" }, P5 = { "5 V", zone = "inside" } },
  stores = { C7 = { charged = "56 V", farads = "10 mF", bleed = "2.2 kohm", zone = "supply", follows_line = true } },
  emits  = { J2 = { rf = "50 W", key = "5 s", drive = false } },
  zones  = {
    inside = { guard = "top-cover", title = "the signal side" },
    supply = { guard = "psu-shield", title = "the supply compartment" },
  },
  parts  = {
    ["top-cover"]  = { title = "the top cover", fixings = "8 x M3 pan", torque = "0.6 N m" },
    ["psu-shield"] = { title = "the supply's shield", after = "top-cover", fixings = "4 x M3 pan" },
  },
  changes = {
    ["link-f2"]   = { kind = "link", title = "a link across F2", zone = "inside", needs = "off" },
    ["w3-parted"] = { kind = "lifted leg", title = "W3 parted", zone = "inside", needs = "off" },
  },
  controls = { band = { "low", "high", title = "the BAND switch" } },
  switch = "the front-panel POWER switch", standby = true,
}

point "J1"  { title = "J1, input", accepts = "+17 dBm", impedance = "50 ohm" }
point "J2"  { title = "J2, output", gives = "50 W", impedance = "50 ohm" }
point "TP1" { behind = { "top-cover" }, gives = "0 dBm", impedance = "50 ohm" }
point "TP2" { behind = { "top-cover" }, gives = "+15 dBm", impedance = "50 ohm" }
point "TP5" { title = "TP5, +12 V", behind = { "top-cover" }, dc = "12 V" }
point "TP6" { title = "TP6, +5 V", behind = { "top-cover" }, dc = "5 V" }
point "R8"  { title = "R8, bias", behind = { "top-cover" } }
point "C7"  { title = "C7, reservoir", zone = "supply", behind = { "psu-shield" }, dc = "56 V" }

suspect "a1"  { title = "A1, driver" }
suspect "q3"  { title = "Q3, final" }
suspect "psu" { title = "the supply" }

-- HERE

step "found-a1"  { finding = { "a1" } }
step "found-q3"  { finding = { "q3" } }
step "found-psu" { finding = { "psu" } }
step "good"      { finding = "no fault found", suspects = {} }
step "unclear"   { finding = { "a1", "q3", "psu" }, separated = false }

-- An example need not lead to every end.
step "every-end" {
  look = "Which?",
  answers = {
    { "a1", to = "found-a1" }, { "q3", to = "found-q3" }, { "psu", to = "found-psu" }, { "good", to = "good" },
    { "unclear", to = "unclear" },
  },
}
