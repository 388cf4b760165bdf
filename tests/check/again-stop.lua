-- expect 4: an answer that stops the run leads nowhere, the second time as the first
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "end" }, { "smoke", stop = true,
  again = "end" } } }
step "end" { finding = "no fault found" }
