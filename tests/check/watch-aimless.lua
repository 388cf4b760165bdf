-- expect 5: the watch step "a" does not say until when
-- hint add limits that no reading may leave
require "lib/head"
step "a" { power = "on", otherwise = "end",
  watch = { "Raise it.", tries = 3, read = { { "x", "volts", at = "TP2" } } } }
step "end" { finding = "no fault found" }
