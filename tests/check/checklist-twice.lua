-- expect 4: the step "a" has two lines named "edges"
require "lib/head"
step "a" { checklist = { { "edges", "Clean?" },
    { "edges", "Whole?" } }, otherwise = "end" }
step "end" { finding = "no fault found" }
