-- Tarnbeck Wheatear mixer, service manual 3.7: "Nothing above -90 dBm, and no more than one click in ten."
playbook {
  id = "wheatear-spurs", edition = 1, family = "Tarnbeck Wheatear",
  title = "Wheatear mixer: birdies and clicks",
  first = { "Fit the 50 ohm cap on J1." },
}

unit {
  supply   = { dc12 = "12 V" },
  controls = { lo = { "off", "on", title = "the LO switch" } },
}
point "J3" { title = "J3, output", gives = "0 dBm", impedance = "50 ohm" }

suspect "lo"     { title = "A3, local oscillator" }
suspect "supply" { title = "L1, supply choke" }
suspect "relay"  { title = "K2, LO relay" }

step "quiet" {
  title = "Spurious with the LO off", power = "on", set = { lo = "off" },
  read  = { "power", at = "J3", hookup = "analyser lead", freq = "45 MHz" }, limits = "nothing above -90 dBm",
  ok = { to = "spurs", clears = { "supply" } }, high = "found-supply", otherwise = "unclear",
}
step "spurs" {
  title = "Spurious with the LO on", power = "on", set = { lo = "on" },
  read  = { "maximum", unit = "dBm", at = "J3", hookup = "analyser lead", freq = "45 MHz", asks = "Let the analyser hold the highest for a minute; read it." },
  limits = "nothing above -90 dBm",
  ok = { to = "clicks", clears = { "lo" } }, high = "found-lo", otherwise = "unclear",
}
step "clicks" {
  title = "Clicks", power = "on", outside = true, set = { lo = "on" },
  read  = { "count", asks = "Throw the LO switch ten times. How often does it click in the loudspeaker?" }, limits = "at most 1",
  ok = { to = "good", clears = { "relay" } }, high = "found-relay", otherwise = "unclear",
}

step "good"         { finding = "no fault found", suspects = {}, proof = "Nothing above -90 dBm, no clicks." }
step "found-supply" { title = "L1", finding = { "supply" }, proof = "The spurious is there with the LO off." }
step "found-lo"     { title = "A3", finding = { "lo" }, proof = "It comes with the LO." }
step "found-relay"  { title = "K2", finding = { "relay" }, proof = "It clicks when it throws." }
step "unclear"      { finding = { "lo", "supply", "relay" }, separated = false, not_tested = "A level could not be read finely enough." }
