local t = {}
setmetatable(t, { __gc = function() while true do end end })
