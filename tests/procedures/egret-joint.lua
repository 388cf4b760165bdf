-- Tarnbeck Egret converter, service manual 5.5: "Part W2 and read both sides of the joint."
playbook {
  id = "egret-joint", edition = 1, family = "Tarnbeck Egret",
  title = "Egret converter: low gain",
  first = { "Set ATT to 0 dB before a signal is joined." },
}

unit {
  supply   = { dc12 = "12 V" }, rails = { P9 = "9 V" },
  zones    = { inside = { guard = "lid" } },
  parts    = { lid = { fixings = "4 x M3", torque = "0.4 N m" } },
  breaks   = { w2 = { title = "W2 at A2", connector = "SMB", terminate = "50 ohm at A2", zone = "inside" } },
  controls = { att = { "0 dB", "20 dB", title = "ATT" } },
}
point "J1" { title = "J1, input", accepts = "+5 dBm", impedance = "50 ohm" }
point "J2" { title = "J2, output", gives = "+5 dBm", impedance = "50 ohm" }
point "W2" { title = "W2, the free end", behind = { "lid", "w2" }, gives = "0 dBm", impedance = "50 ohm" }

suspect "a1"  { title = "A1, before W2" }
suspect "a2"  { title = "A2, behind W2" }
suspect "att" { title = "the attenuator" }
suspect "w2"  { title = "W2, the cable itself" }

step "att" {
  title  = "The attenuator's step", power = "on",
  inject = { "-30 dBm", at = "J1", freq = "100 MHz", hookup = "source lead" },
  read   = {
    { "straight", "power", at = "J2", hookup = "meter lead", set = { att = "0 dB" } },
    { "attenuated", "power", at = "J2", hookup = "meter lead", set = { att = "20 dB" } },
  },
  difference = { "straight", "attenuated" }, limits = "20 dB +/- 2 dB",
  ok = { to = "before-w2", clears = { "att" } }, unread = "unclear", otherwise = "found-att",
}
step "before-w2" {
  title  = "Level before the joint", power = "on", open = { "lid" }, breaks = { "w2" }, set = { att = "0 dB" },
  inject = { "-30 dBm", at = "J1", freq = "100 MHz", hookup = "source lead" },
  read   = { "power", at = "W2", hookup = "meter lead" }, limits = "-15 dBm +/- 2 dB",
  ok = { to = "cable", clears = { "a1" } }, low = "found-a1", otherwise = "unclear",
}
step "cable" {
  title = "W2 itself", power = "dead", open = { "lid" }, breaks = { "w2" },
  read  = { "ohms", at = "W2", against = "its other end", hookup = "volt leads" }, limits = "at most 2 ohm",
  ok = { to = "found-a2", clears = { "w2" } }, high = "found-w2", otherwise = "unclear",
}

step "found-att" { title = "The attenuator", finding = { "att" }, proof = "Its step is not 20 dB." }
step "found-a1"  { title = "A1", finding = { "a1" }, proof = "The level is low before the joint." }
step "found-w2"  { title = "W2", finding = { "w2" }, proof = "The level goes in and the cable is open." }
step "found-a2"  { title = "A2", finding = { "a2" }, proof = "The level is right before it, and the cable is whole." }
step "unclear"   { finding = { "a1", "a2", "w2" }, separated = false, not_tested = "A reading was not had, or lay on its limit." }
