-- A beginning with controls and joints, for the cases that need some.
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." } }
unit {
  supply   = { dc12 = "12 V" },
  zones    = { inside = { guard = "lid" } },
  parts    = { lid = { fixings = "4 x M3" } },
  changes  = { ["link-f2"] = { kind = "link" } },
  breaks   = { ["w1-a1"] = { connector = "SMA", zone = "inside" } },
  controls = { band = { "low", "high" } },
}
point "TP1" { behind = { "lid", "w1-a1" } }
