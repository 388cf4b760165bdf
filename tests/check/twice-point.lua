-- expect 3: the point "J1" is declared twice; the other stands in line 10 of lib/head.lua
require "lib/head"
point "J1" { }
step "end" { finding = "no fault found" }
