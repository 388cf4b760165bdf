-- expect 4: the loop a -> a has no bound
require "lib/head"
step "a" { look = "?", answers = {
  { "again", to = "a" },
  { "done", to = "end" } } }
step "end" { finding = "no fault found" }
