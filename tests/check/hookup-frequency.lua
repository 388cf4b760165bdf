-- expect 3: "M1" reads power, but not at 9 GHz
require "lib/head"
step "a" { read = { "power", at = "TP2", hookup = "meter lead", freq = "9 GHz" }, next = "end" }
step "end" { finding = "no fault found" }
