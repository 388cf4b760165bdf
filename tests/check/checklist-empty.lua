-- expect 3: the checklist "a" asks nothing
require "lib/head"
step "a" { checklist = {}, otherwise = "end" }
step "end" { finding = "no fault found" }
