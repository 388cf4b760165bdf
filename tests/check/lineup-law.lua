-- expect 7: this law does not say how much is lost, and at which frequency
-- hint write law = { root = "0.6 dB", linear = "0.1 dB", at = "1 GHz" }
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  stage { "a1", law = { root = "1 dB" }, tolerance = "1 dB" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, expect = "way",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
