-- expect 5: "att" is no word of a reading
-- hint did you mean "at"?
require "lib/head"
step "a" { read = { "volts",
  att = "TP2" }, next = "end" }
step "end" { finding = "no fault found" }
