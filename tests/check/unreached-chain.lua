-- expect 5: nothing leads to the step "b"
-- hint or take it out; and 2 more because of this
require "lib/head"
step "a" { tell = "x", next = "end" }
step "b" { tell = "y", next = "c" }
step "c" { tell = "y", next = "d" }
step "d" { tell = "y", next = "end" }
step "end" { finding = "no fault found" }
