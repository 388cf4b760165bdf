-- expect 6: the difference of a trace has no meaning
-- expect 10: the step "c" reads something else than "d", so its reading cannot serve here
require "lib/head"
step "a" {
  power = "on", read = {
    { "x", "trace", at = "J2", mask = "lib/mask.csv" }, { "y", "trace", at = "J2", mask = "lib/mask.csv" } },
  difference = { "x", "y" }, limits = "1 dB .. 2 dB", otherwise = "c" }
step "c" { power = "on", read = { "trace", at = "J2", mask = "lib/mask.csv" }, otherwise = "d" }
step "d" {
  power = "on", reuse = "c", read = { "trace", at = "J2", mask = "lib/mask.csv" }, otherwise = "end" }
step "end" { finding = "no fault found" }
