-- The smallest audio line-up: one channel of a mixing desk, in dBu and volts, with the supply that feeds it. No limits are written here:
-- each comes from the line-up, and "why" shows its budget.
playbook {
  id = "channel", edition = 1,
  title  = "Linnet desk: one channel weak",
  family = "Orrin Vale Linnet",
  first  = { "Turn the power amplifiers behind it down: a channel that comes back may thump." },
}

unit {
  supply   = { dc15 = "15 V" },
  parts    = { ["lid"] = { fixings = "6 x M3 pan", torque = "0.5 N m" } },
  controls = { pad = { "out", "in", title = "the PAD button" } },
}
point "J1"  { title = "J1, channel input", accepts = "+22 dBu", impedance = "10 kohm" }
point "TP1" { title = "TP1, behind the input stage", behind = { "lid" } }
point "J2"  { title = "J2, channel output" }
point "TP5" { title = "TP5, +12 V of the channel", behind = { "lid" }, dc = "12 V" }

suspect "pad"   { title = "the PAD relay", modes = { "stuck out" } }
suspect "u1"    { title = "U1, input stage", modes = { "dead", "low gain" }, odds = 2 }
suspect "c7"    { title = "C7, between the stages", modes = { "open" } }
suspect "fader" { title = "the fader", modes = { "worn" } }
suspect "u2"    { title = "U2, output stage", modes = { "dead" } }
suspect "u9"    { title = "U9, regulator of the channel", modes = { "low", "lost" } }

lineup "channel" {
  impedance = "10 kohm",
  port { "J1" },
  switch { "pad", by = "pad", faults = { ["stuck out"] = "stuck out" }, ways = {
    out = {}, ["in"] = { stage { "pad-in", gain = "0.1 +/- 2 %" } },
  } },
  stage { "u1", gain = "30 dB +/- 0.5 dB", p1db = "+22 dBu", supply = "u9", faults = { ["low gain"] = "gain -10 dB" } },
  "TP1",
  stage { "c7", gain = { ["20 Hz"] = "-1 dB", ["100 Hz"] = "0 dB", ["20 kHz"] = "0 dB" }, tolerance = "0.2 dB",
          faults = { open = "open 10 pF" } },
  stage { "fader", loss = "10 dB +/- 0.5 dB", faults = { worn = "resistive 20 kohm" } },
  stage { "u2", gain = "10 dB +/- 0.3 dB", supply = "u9" },
  port { "J2" },
  supply { "dc15", gives = "15 V +/- 10 %" },
  supply { "u9", from = "dc15", gives = "12 V +/- 2 %", faults = { low = "gain -2 dB" } },
  point { "TP5", from = "u9" },
}

step "rail" {
  title = "+12 V of the channel",
  power = "on", open = { "lid" },
  read  = { "volts", at = "TP5", against = "chassis", hookup = "volt leads" }, expect = "channel",
  ok = { to = "whole", clears = { "u9" } }, unread = "unclear", otherwise = "found-u9",
}
step "whole" {
  title  = "The whole channel",
  set    = { pad = "out" }, power = "on", open = { "lid" },
  inject = { "-30 dBu", at = "J1", freq = "1 kHz", hookup = "tone lead" },
  read   = { "ac volts", at = "J2", against = "chassis", hookup = "tone meter", unit = "dBu" }, expect = true,
  ok = "pad-in", low = "half", otherwise = "unclear",
}
step "pad-in" {
  title  = "The channel with PAD in",
  set    = { pad = "in" }, power = "on", open = { "lid" },
  inject = { "-30 dBu", at = "J1", freq = "1 kHz", hookup = "tone lead" },
  read   = { "ac volts", at = "J2", against = "chassis", hookup = "tone meter", unit = "dBu" }, expect = { "channel", worst = true },
  ok = "unclear", high = "found-pad", otherwise = "unclear",
}
step "half" {
  title  = "Half way",
  set    = { pad = "out" }, power = "on", open = { "lid" },
  inject = { "-30 dBu", at = "J1", freq = "1 kHz", hookup = "tone lead" },
  read   = { "ac volts", at = "TP1", against = "chassis", hookup = "tone meter", unit = "dBu" }, expect = "channel",
  ok = { to = "found-behind", clears = { "u1", "pad" } }, low = "found-u1", otherwise = "unclear",
}

step "found-u9"     { title = "U9, regulator", finding = { "u9" }, proof = "The channel's 12 V are wrong." }
step "found-pad"    { title = "The PAD relay", finding = { "pad" }, proof = "PAD in changes nothing." }
step "found-u1"     { title = "U1, input stage", finding = { "u1" }, proof = "Its supply is right, and the level behind it is not." }
step "found-behind" { title = "Behind U1", finding = { "c7", "fader", "u2" }, separated = false, proof = "Right behind U1, low at the output.",
                      not_tested = "Where between them." }
step "unclear"      { title = "Not separated", finding = { "pad", "u1", "c7", "fader", "u2" }, separated = false,
                      not_tested = "A reading lay on its limit, or all is well here." }
