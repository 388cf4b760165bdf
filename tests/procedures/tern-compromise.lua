-- Orrin Vale Tern exciter, service manual 8.1: "Turn R5 for the best of both bands."
playbook {
  id = "tern-compromise", edition = 1, family = "Orrin Vale Tern",
  title = "Tern exciter: drive differs between the bands",
  first = { "Mark where R5 stands." },
}

unit {
  supply   = { dc13 = "13.8 V" },
  controls = { band = { "low", "high", title = "BAND" } },
}
point "J2" { title = "J2, output", gives = "+20 dBm", impedance = "50 ohm" }

suspect "bias" { title = "R5 and its bias chain" }
suspect "band" { title = "the high-band network" }

step "drive" {
  title = "Drive in both bands", power = "on", outside = true,
  adjust = {
    "Turn R5 a little, through the hole in the side.", tries = 3,
    read = {
      { "low", "power", at = "J2", hookup = "meter lead", freq = "100 MHz", set = { band = "low" }, limits = "10 dBm +/- 2 dB" },
      { "high", "power", at = "J2", hookup = "meter lead", freq = "200 MHz", set = { band = "high" }, limits = "10 dBm +/- 2 dB" },
    },
  },
  ok = { to = "good", clears = { "bias", "band" } }, unread = "unclear", otherwise = "which",
}
step "which" {
  uses   = { low = "drive/low", high = "drive/high" },
  decide = function(v, outcome)
    if outcome.low == "ok" or outcome.high == "ok" then return "found-band" end
    return "found-bias"
  end,
  to = { { to = "found-band", clears = { "bias" } }, "found-bias" },
}

step "good"       { title = "Set", finding = "the drive was out of adjustment, and was set", suspects = {}, proof = "Both bands come right in one setting." }
step "found-band" { title = "High-band network", finding = { "band" }, proof = "One band comes right and the other does not." }
step "found-bias" { title = "R5", finding = { "bias" }, proof = "Neither band comes right." }
step "unclear"    { finding = { "bias", "band" }, separated = false, not_tested = "The drive could not be read." }
