-- expect 7: "low 20 %" says how low a supply is, and "a1" is a stage
-- hint write by how much it is weaker
require "lib/head"
suspect "a1" { modes = { "weak" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  stage { "a1", gain = "20 dB +/- 1 dB", faults = { weak = "low 20 %" } },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, expect = "way",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
