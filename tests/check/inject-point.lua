-- expect 6: no point "J3" is declared
-- hint did you mean "J1"?
require "lib/head"
step "a" { tell = "x", next = "end",
  inject = { "-20 dBm",
    at = "J3", freq = "1 GHz", hookup = "source lead" } }
step "end" { finding = "no fault found" }
