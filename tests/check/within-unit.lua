-- expect 5: within
-- expect 4: so "next" does not say where it leads
require "lib/head"
step "a" { next = "end",
  read = { "trend", within = "10 V" }, ok = "end", otherwise = "end" }
step "end" { finding = "no fault found" }
