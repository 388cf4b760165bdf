-- expect 5: "openings" is nothing a reading can hold through
require "lib/head"
step "a" { read = { "volts", at = "TP2" }, next = "end",
  holds = { "do",
    "openings" } }
step "end" { finding = "no fault found" }
