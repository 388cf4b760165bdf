-- expect 3: the read step "a" does not say where low, high and unread lead
require "lib/head"
step "a" { ok = "end",
  read = { "trend" } }
step "end" { finding = "no fault found" }
