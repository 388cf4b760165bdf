-- expect 7: this answer leads to "elsewhere", and there is no such step
-- hint declare it: step "elsewhere" { ... }
require "lib/head"
step "a" { look = "?", answers = {
  { "lit", to = "end" },
  { "dark",
    to = "elsewhere" } } }
step "end" { finding = "no fault found" }
