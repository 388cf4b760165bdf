-- expect 5: a line of a checklist is a name and a question
-- hint write { "edges", "Are both edges clean?" }
require "lib/head"
step "a" { checklist = { { "edges", "Are both edges clean?" },
    { "screws" } }, otherwise = "end" }
step "end" { finding = "no fault found" }
