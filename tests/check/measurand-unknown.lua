-- expect 4: "vols" is nothing that can be read
-- hint did you mean "volts"?
require "lib/head"
step "a" { read = { "vols", at = "TP2" }, next = "end" }
step "end" { finding = "no fault found" }
