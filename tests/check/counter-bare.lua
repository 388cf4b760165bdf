-- expect 6: the counter "c" does not say how often
-- hint add most = 3
-- expect 6: the counter "c" does not say what comes when it is used up
-- hint add beyond = "STEP"
require "lib/head"
counter "c" {
}
step "a" { tell = "x", next = { to = "end", counts = "c" } }
step "end" { finding = "no fault found" }
