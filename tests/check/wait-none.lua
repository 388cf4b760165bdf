-- expect 3: the wait step "a" waits no time at all
require "lib/head"
step "a" { wait = "0 s", next = "end" }
step "end" { finding = "no fault found" }
