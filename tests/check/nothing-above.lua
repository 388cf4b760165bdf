-- expect 4: the limits of "a"
require "lib/head"
step "a" { power = "on", read = { "power", at = "J1" }, otherwise = "end",
  limits = "nothing above -90 V" }
step "end" { finding = "no fault found" }
