-- Orrin Vale Rook power unit, service manual 1.3: the fan, before anything else.
playbook {
  id = "rook-fan", edition = 1, family = "Orrin Vale Rook",
  title = "Rook power unit: shuts down warm",
  first = { "Let it cool for half an hour." },
}

unit {
  supply   = { mains = { "230 V", zone = "primary" } },
  zones    = { primary = { guard = "shield" } },
  parts    = { grille = { title = "the fan grille", needs = "any" }, cover = {}, shield = { after = "cover" } },
  controls = { fan = { "auto", "full", title = "the FAN switch" } },
}
suspect "fan"    { title = "M1, fan" }
suspect "sensor" { title = "RT1, sensor" }
suspect "dirt"   { title = "the grille, clogged" }

counter "spins" { most = 3, beyond = { to = "found-fan", implicates = { "fan" } } }

step "air" {
  title = "The way of the air", power = "off",
  checklist = { { "grille", "Is the grille free of dust?" }, { "blades", "Are the blades whole?" } },
  ok = { to = "spin", clears = { "dirt" } }, low = "clean", unread = "unclear",
}
step "clean" { act = "Brush the grille out.", outside = true, next = { to = "air", counts = "spins" } }
step "spin" {
  title = "Does it start", power = "on", set = { fan = "full" },
  look  = "What does the fan do?",
  answers = {
    { "runs", to = "steady", clears = { "fan" } },
    { "still", to = "nudge", again = "found-fan" },
    { "smoke", "smoke or a smell", stop = true },
  },
}
step "nudge" { act = "Turn the blades by hand, ten times.", outside = true, power = "off", next = { to = "spin", counts = "spins" } }
step "steady" {
  title = "Shut-downs", power = "on", set = { fan = "auto" },
  collect = {
    { "smell", "tick", asks = "Does it smell hot?", limits = "at most 0.5" },
    { "stops", "count", asks = "Start it ten times. How often does it shut down?", limits = "at most 0" },
  },
  ok = { to = "good", clears = { "sensor" } }, high = "found-sensor", otherwise = "unclear",
}

step "good"         { finding = "no fault found", suspects = {}, proof = "It runs, and does not shut down." }
step "found-fan"    { title = "M1", finding = { "fan" }, proof = "It does not start." }
step "found-sensor" { title = "RT1", finding = { "sensor" }, proof = "The fan runs, and it shuts down or runs hot." }
step "unclear"      { finding = { "fan", "sensor", "dirt" }, separated = false, not_tested = "Somebody could not tell." }
