local t = {}
setmetatable(t, { __index = function(t, k) return t[k .. "x"] end })
local v = t.a
