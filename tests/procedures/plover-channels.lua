-- Tarnbeck Plover stereo amplifier, service manual 2.4: "Feed both channels alike and compare."
playbook {
  id = "plover-channels", edition = 1, family = "Tarnbeck Plover",
  title = "Plover amplifier: one channel sounds wrong",
  first = { "Take the loudspeakers off." },
}

unit {
  supply   = { dc18 = "18 V" },
  controls = { balance = { "left", "middle", "right", title = "BALANCE" }, mono = { "stereo", "mono", title = "the MONO button" } },
}
point "J1" { title = "J1, both inputs through the Y lead", accepts = "5 V", impedance = "10 kohm" }

suspect "in-left"  { title = "U1, left input" }
suspect "in-right" { title = "U2, right input" }
suspect "out"      { title = "the output board" }
suspect "balance"  { title = "R30, BALANCE" }

step "both" {
  title   = "One signal on both channels",
  power   = "on", set = { balance = "middle", mono = "stereo" },
  inject  = { "0.5 V", at = "J1", freq = "1 kHz", hookup = "tone lead" },
  compare = "the left trace with the right one on the two-channel scope",
  same = { to = "good", clears = { "in-left", "in-right", "out" } }, different = "which", unclear = "unclear",
}
step "which" {
  title   = "Which channel", power = "on", set = { mono = "mono" },
  compare = "the left trace with the right one, now that MONO joins them behind the inputs",
  same = { to = "which-input", clears = { "out", "balance" } },
  different = { to = "wiggle", clears = { "in-left", "in-right" } }, unclear = "unclear",
}
step "which-input" {
  power = "on", set = { mono = "stereo" },
  collect = {
    { "left", "tick", asks = "Is the left trace a clean sine?" },
    { "right", "tick", asks = "Is the right trace a clean sine?" },
  },
  decide = function(v, outcome)
    if outcome.left == outcome.right then return "unclear" end
    return outcome.left == "low" and "found-in-left" or "found-in-right"
  end,
  to = { { to = "found-in-left", clears = { "in-right" } }, { to = "found-in-right", clears = { "in-left" } }, "unclear" },
}
step "wiggle" {
  title = "BALANCE", power = "on",
  look  = "Turn BALANCE end to end and back to the middle. Are the channels alike now?",
  answers = {
    { "alike", to = "found-balance", clears = { "out" } },
    { "unlike", "still one of them is wrong", to = "clean", again = "found-out" },
  },
}
step "clean" { act = "Spray the track of BALANCE and turn it thirty times.", outside = true, next = "wiggle" }

step "good"           { finding = "no fault found", suspects = {}, proof = "Both channels are alike." }
step "found-in-left"  { title = "U1", finding = { "in-left" }, proof = "The channels are alike behind the inputs, and the left one is not clean." }
step "found-in-right" { title = "U2", finding = { "in-right" }, proof = "The channels are alike behind the inputs, and the right one is not clean." }
step "found-balance"  { title = "R30", finding = { "balance" }, proof = "Turning it made the channels alike." }
step "found-out"      { title = "The output board", finding = { "out" }, proof = "Unlike behind the inputs, BALANCE cleaned." }
step "unclear"        { finding = { "in-left", "in-right", "out", "balance" }, separated = false, not_tested = "The traces could not be told apart." }
