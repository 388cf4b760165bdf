-- Measuring the leads before the unit: the meter on a known source, both leads end to end, the prods zeroed.
playbook {
  id = "leads", edition = 1,
  title = "Sill line amplifier: low gain",
  family = "Tarnbeck Sill",
  first = { "Switch it off, and take every lead off it." },
  proved = false,
}

unit { supply = { dc12 = "12 V" }, switch = "the switch at the side" }
point "J1" { title = "J1, input", accepts = "10 dBm", impedance = "50 ohm", connector = "N female" }
point "J2" { title = "J2, output", gives = "10 dBm", impedance = "50 ohm", connector = "N female" }

suspect "amp"  { title = "A1, the amplifier", modes = { "low gain" }, odds = 3 }
suspect "fuse" { title = "F1", modes = { "high resistance" } }

step "meter-good" { title = "The power meter", prove = { "meter lead", "power" }, ok = "through", otherwise = "drifted" }

step "through" {
  title = "Both leads, end to end",
  straight = { "source lead", "meter lead", level = "0 dBm", freq = "145 MHz" },
  ok = "gain", otherwise = "bad-lead",
}

step "gain" {
  title = "Gain at 145 MHz",
  power = "on", inject = { "-20 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "J2", hookup = "meter lead" },
  limits = "0 dBm +/- 0.5 dB",
  ok  = { to = "prods", clears = { "amp" } },
  low = { to = "meter-still-good", implicates = { "amp" } },
  otherwise = "unclear",
}

step "meter-still-good" {
  title = "The power meter again, before the amplifier is blamed",
  prove = { "meter lead", "power" }, ok = "found-amp", otherwise = "drifted",
}

step "prods" { title = "The prods", zero = "ohm leads", ok = "fuse-ohms", otherwise = "bad-lead" }

step "fuse-ohms" {
  title = "F1 on the mat",
  read = { "ohms", at = "F1", against = "its other end", hookup = "ohm leads", loose = true },
  limits = "at most 0.4 ohm",
  ok = { to = "good", clears = { "fuse" } }, high = { to = "found-fuse", implicates = { "fuse" } }, otherwise = "unclear",
}

step "found-amp"  { title = "A1, the amplifier", finding = { "amp" }, proof = "The gain is low, by a meter shown good before and after." }
step "found-fuse" { title = "F1", finding = { "fuse" }, proof = "F1 takes more than 0.4 ohm, the prods taken off." }
step "good"       { finding = "no fault found", suspects = {}, title = "No fault found" }
step "drifted"    { finding = "the power meter has drifted", suspects = {}, title = "The power meter has drifted",
                    proof = "It does not show what is known.", advice = "Have it calibrated, and begin again with another." }
step "bad-lead"   { finding = "a lead is bad", suspects = {}, title = "A lead is bad", advice = "Mend it, and begin again." }
step "unclear"    { finding = { "amp", "fuse" }, separated = false, title = "Not separated",
                    not_tested = "A reading lay on its limit or could not be taken." }
