-- expect 5: "hi" is no position of the control "band"
require "lib/switched"
step "a" { power = "on", next = "end", open = "lid", breaks = "w1-a1",
  read = { "volts", at = "TP1",
    set = { band = "hi" } } }
step "end" { finding = "no fault found" }
