-- expect 4: no reading may be called "set...."
require "lib/head"
step "a" { power = "on", otherwise = "end", collect = {
    { "set.band", "volts", limits = "1 V .. 2 V" } } }
step "end" { finding = "no fault found" }
