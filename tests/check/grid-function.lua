-- expect 5: the limits of a grid are a text, and here is a function
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" },
    limits = function() return "1 V" end } }
step "end" { finding = "no fault found" }
