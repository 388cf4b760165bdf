-- Tarnbeck Sorrel bench supply, service manual 6.3: "Raise VOLTS in steps of 5 V and watch the current."
playbook {
  id = "sorrel-limit", edition = 1, family = "Tarnbeck Sorrel",
  title = "Sorrel bench supply: trips when the voltage is raised",
  first = { "Turn VOLTS fully down." },
}

unit {
  supply   = { mains = { "230 V", zone = "primary" } },
  rails    = { out = { "40 V", title = "the output terminals" } },
  zones    = { primary = { guard = "shield" } },
  parts    = { cover = { fixings = "10 x M4" }, shield = { after = "cover" } },
  controls = { limit = { "0.5 A", "2 A", title = "the LIMIT switch" } },
}
point "OUT" { title = "the output terminals", dc = "40 V" }

suspect "pass"   { title = "Q1, pass transistor" }
suspect "load"   { title = "C9, across the output" }
suspect "sense"  { title = "R14, current sense" }

counter "resets" { most = 2, beyond = { to = "found-sense", implicates = { "sense" } } }

step "trip" {
  look  = "Is the TRIP lamp lit?", power = "on",
  answers = {
    { "dark", to = "raise" },
    { "lit", to = "reset", counts = "resets", again = { to = "reset-twice", counts = "resets" } },
  },
}
step "reset"       { act = "Press RESET.", outside = true, power = "on", next = "trip" }
step "reset-twice" { act = "Turn LIMIT back and forth, then press RESET.", outside = true, power = "on", next = "trip" }

step "raise" {
  title = "Raise the voltage", power = "on", outside = true, set = { limit = "0.5 A" },
  watch = {
    "Raise VOLTS by 5 V.", tries = 4,
    read = {
      { "output", "volts", at = "OUT", against = "the minus terminal", hookup = "volt leads", limits = "0 V .. 25 V" },
      { "current", "amps", asks = "Read the current on the panel.", limits = "at most 0.1 A" },
    },
  },
  ok = { to = "good", clears = { "pass", "load" } },
  high = "which", otherwise = "unclear",
}
step "which" {
  uses   = { volts = "raise/output", amps = "raise/current" },
  decide = function(v)
    if v.volts and v.volts > 25 then return "found-pass" end
    return v.amps and v.amps > 0.1 and "found-load" or "unclear"
  end,
  to = { { to = "found-pass", clears = { "load" } }, { to = "found-load", clears = { "pass" } }, "unclear" },
}

step "good"        { finding = "no fault found", suspects = {}, proof = "The voltage comes up and draws nothing." }
step "found-pass"  { title = "Q1", finding = { "pass" }, proof = "The output ran away." }
step "found-load"  { title = "C9", finding = { "load" }, proof = "The output draws current with nothing fitted." }
step "found-sense" { title = "R14", finding = { "sense" }, proof = "It trips at no output at all, after each reset." }
step "unclear"     { finding = { "pass", "load", "sense" }, separated = false, not_tested = "A reading could not be taken." }
