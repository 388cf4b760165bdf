-- What every case begins with: a playbook and a unit without a mistake.
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." } }
unit {
  supply  = { mains = "230 V" },
  emits   = { J2 = { rf = "50 W" } },
  zones   = { primary = { guard = "shield" } },
  parts   = { top = { fixings = "8 x M3" }, shield = { after = "top" } },
  changes = { ["link-f2"] = { kind = "link" } },
}
point "J1" { accepts = "+10 dBm" }
point "J2" { gives = "50 W" }
point "TP2" { behind = { "top" } }
