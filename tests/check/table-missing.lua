-- expect 4: step "a" has no table after its id
-- hint write step "a" { ... }
require "lib/head"
step "a"
step "end" { finding = "no fault found" }
