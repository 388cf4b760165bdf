-- expect 11: what is to be expected at TP2 is not known: a1 in the line-up "way": no gain known at 145 MHz: the table runs from 200 MHz to 300 MHz
-- hint let the table reach that frequency
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  stage { "a1", gain = { ["200 MHz"] = "20 dB", ["300 MHz"] = "19 dB" }, tolerance = "1 dB" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, expect = "way",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
