local t = setmetatable({}, { __index = function(t, k) while true do end end })
pcall(function() return t.x end)
error("went on")
