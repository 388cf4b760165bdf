-- expect 4: there is no counter "retries"
-- hint declare it: counter "retries" { most = 3, beyond = "STEP" }
require "lib/head"
step "a" { tell = "x", next = { to = "end", counts = "retries" } }
step "end" { finding = "no fault found" }
