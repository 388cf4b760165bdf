-- expect nothing
require "lib/head"
local box = setmetatable({}, { __index = function() return "end" end })
step "l" { look = "?", answers = { { "y", to = "d" } } }
step "d" { decide = function(v) return box.to or "end" end, uses = "l", to = "end" }
step "end" { finding = "no fault found" }
