-- Tarnbeck Heron transmitter, service manual 9: "Not until the supply and the exciter have passed is it keyed."
playbook {
  id = "heron-order", edition = 1, family = "Tarnbeck Heron",
  title = "Heron transmitter: no output",
  first = { "Take the antenna off J2." },
  enter = {
    { "dead", "no lamp lights", to = "supply", clears = { "final" } },
    { "quiet", "it lights and gives no power", to = "power-out" },
  },
}

unit {
  supply = { dc28 = "28 V" }, rails = { P12 = "12 V" },
  emits  = { J2 = { rf = "20 W", key = "5 s" } },
  parts  = { cover = { fixings = "8 x M3" } },
}
point "J2"  { title = "J2, output", gives = "20 W", impedance = "50 ohm" }
point "TP1" { behind = { "cover" }, dc = "12 V" }
point "TP2" { behind = { "cover" }, gives = "+15 dBm", impedance = "50 ohm" }

suspect "reg"     { title = "U1, regulator" }
suspect "exciter" { title = "A1, exciter" }
suspect "final"   { title = "Q3, final" }

step "power-out" {
  title  = "Output power", passed = { "supply", "exciter" }, not_yet = "supply", most = 4, beyond = "unclear",
  power  = "keyed", key = "5 s", load = { "50 ohm", at = "J2", rated = "50 W", time = "30 s" },
  read   = { "power", at = "J2", hookup = "power lead", freq = "150 MHz", plausible = "-20 dBm .. 50 dBm" },
  limits = "42 dBm .. 45 dBm",
  ok = { to = "good", clears = { "final" } }, low = "found-final", otherwise = "unclear",
}
step "supply" {
  title = "+12 V", power = "on", open = { "cover" },
  read  = { "volts", at = "TP1", against = "chassis", hookup = "volt leads" }, limits = "12 V +/- 5 %",
  ok = { to = "exciter", clears = { "reg" } }, otherwise = "found-reg",
}
step "exciter" {
  title = "Exciter", power = "on", open = { "cover" },
  read  = { "power", at = "TP2", hookup = "meter lead", freq = "150 MHz" }, limits = "10 dBm +/- 3 dB",
  ok = { to = "power-out", clears = { "exciter" } }, unread = "power-out", otherwise = "found-exciter",
}

step "good"          { finding = "no fault found", suspects = {}, proof = "Full power." }
step "found-reg"     { title = "U1", finding = { "reg" }, proof = "The 12 V are wrong." }
step "found-exciter" { title = "A1", finding = { "exciter" }, proof = "The exciter does not give its level." }
step "found-final"   { title = "Q3", finding = { "final" }, proof = "The exciter is right and the output is not." }
step "unclear"       { finding = { "exciter", "final" }, separated = false, not_tested = "The exciter's level could not be read." }
