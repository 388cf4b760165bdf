-- expect 5: the step "a" keys for longer than "J2" may be keyed
-- hint at most 5 s
require "lib/head"
step "a" { tell = "x", next = "end", load = { "50 ohm", at = "J2", rated = "100 W" },
  key = "30 s" }
step "end" { finding = "no fault found" }
