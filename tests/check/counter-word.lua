-- expect 5: "at_most" is no word of a counter
-- hint its words are most, beyond
require "lib/head"
counter "c" { most = 1, beyond = "end",
  at_most = 3 }
step "a" { tell = "x", next = { to = "end", counts = "c" } }
step "end" { finding = "no fault found" }
