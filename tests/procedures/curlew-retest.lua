-- Tarnbeck Curlew oscillator, service manual 7.2: "After a new crystal the frequency and both levels are read again."
playbook {
  id = "curlew-retest", edition = 1, family = "Tarnbeck Curlew",
  title = "Curlew oscillator: off frequency",
  first = { "Let it warm for ten minutes." },
}

unit {
  supply = { dc12 = "12 V" }, rails = { P5 = "5 V" },
  parts  = { can = { title = "the screening can", fixings = "2 x M2.5" } },
  zones  = { inside = { guard = "can" } },
}
point "J1"  { title = "J1, output", gives = "+13 dBm", impedance = "50 ohm" }
point "TP4" { behind = { "can" }, dc = "5 V" }

suspect "crystal" { title = "Y1, crystal" }
suspect "buffer"  { title = "U2, buffer" }
suspect "reg"     { title = "U1, 5 V regulator" }

step "rail" {
  title = "+5 V", power = "on", open = { "can" }, holds = "all",
  read  = { "volts", at = "TP4", against = "the can", hookup = "volt leads" }, limits = "5 V +/- 5 %",
  ok = { to = "frequency", clears = { "reg" } }, otherwise = "found-reg",
}
step "frequency" {
  title = "Frequency", power = "on",
  read  = { "frequency", at = "J1", hookup = "analyser lead", plausible = "90 MHz .. 110 MHz" }, limits = "100 MHz +/- 10 kHz",
  ok = { to = "levels", clears = { "crystal" } }, unread = "levels", otherwise = "new-crystal",
}
step "levels" {
  title = "Levels", power = "on",
  collect = {
    { "main", "power", at = "J1", hookup = "analyser lead", freq = "100 MHz", limits = "10 dBm +/- 3 dB" },
    { "second", "power", at = "J1", hookup = "analyser lead", freq = "200 MHz", limits = "nothing above -20 dBm" },
  },
  ok = "last", otherwise = { to = "found-buffer", implicates = { "buffer" } },
}
step "new-crystal" {
  replace = "Y1", text = "Solder it quickly; heat shifts it.", open = { "can" }, most = 2, beyond = "unclear",
  voids = { "frequency", "levels" }, retest = { "frequency", "levels" },
  next = { to = "proved", implicates = { "crystal" } },
}
step "proved" { tell = "Write the new frequency on the label.", passed = { "rail", "frequency", "levels" }, not_yet = "unclear", next = "found-crystal" }
step "last"   { tell = "Put the can back.", passed = { "frequency" }, not_yet = "unclear", next = "good" }

step "good"          { finding = "no fault found", suspects = {}, proof = "Frequency and levels are right." }
step "found-reg"     { title = "U1", finding = { "reg" }, proof = "Its 5 V is wrong." }
step "found-crystal" { title = "Y1", finding = { "crystal" }, proof = "With a new one, frequency and levels are right." }
step "found-buffer"  { title = "U2", finding = { "buffer" }, proof = "The level is wrong." }
step "unclear"       { finding = { "crystal", "buffer" }, separated = false, not_tested = "Another crystal did not help, or the frequency could not be read." }
