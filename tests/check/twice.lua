-- expect 4: the step "end" is declared twice; the other stands in line 3 of twice.lua
require "lib/head"
step "end" { finding = "no fault found" }
step "end" { finding = "another" }
