-- Orrin Vale Dunlin notch filter, service manual 3.1: "Part the joint, find the dip, tune it."
playbook {
  id = "dunlin-trap", edition = 1, family = "Orrin Vale Dunlin",
  title = "Dunlin notch filter: the notch does not take out 10.7 MHz",
  first = { "Do not turn C5 before its setting is marked." },
}

unit {
  supply = { dc15 = "15 V" },
  zones  = { inside = { guard = "lid" } },
  parts  = { lid = { title = "the lid", fixings = "6 x M3 pan", torque = "0.5 N m" } },
  breaks = {
    ["w1-a2"] = { title = "W1 at A2", connector = "SMA", torque = "0.9 N m", terminate = "50 ohm at A2's side", zone = "inside" },
  },
}
point "J1" { title = "J1, input", accepts = "+10 dBm", impedance = "50 ohm" }
point "W1" { title = "W1, the free end", behind = { "lid", "w1-a2" }, gives = "0 dBm", impedance = "50 ohm" }

suspect "trap" { title = "C5 or L5 of the trap" }
suspect "a2"   { title = "A2, behind the trap" }

step "dip" {
  title  = "Where the dip lies",
  power  = "on", open = { "lid" }, breaks = { "w1-a2" },
  inject = { "-20 dBm", at = "J1", freq = "10.7 MHz", hookup = "source lead" },
  read   = { "dip", at = "W1", hookup = "analyser lead", plausible = "9 MHz .. 12 MHz" },
  limits = "10.7 MHz +/- 50 kHz",
  ok = { to = "found-a2", clears = { "trap" } }, unread = "found-trap", otherwise = "tune",
}

step "tune" {
  title  = "Tune the trap",
  power  = "on", open = { "lid" }, breaks = { "w1-a2" }, zone = "inside",
  inject = { "-20 dBm", at = "J1", freq = "10.7 MHz", hookup = "source lead" },
  adjust = { "Turn C5 slowly with the insulated trimmer.", tune = "dip", tries = 2,
             read = { "power", at = "W1", hookup = "analyser lead", held = "CAL" } },
  limits = "at most -60 dBm",
  ok = { to = "good", clears = { "trap" } }, otherwise = "found-trap",
}

step "good"       { title = "Trap tuned", finding = "the trap was out of tune, and was tuned", suspects = {}, proof = "The dip takes out 10.7 MHz." }
step "found-trap" { title = "The trap", finding = { "trap" }, proof = "There is no dip, or it cannot be brought to 10.7 MHz." }
step "found-a2"   { title = "A2", finding = { "a2" }, proof = "The dip lies right at W1, before A2." }
