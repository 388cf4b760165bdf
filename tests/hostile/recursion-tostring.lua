local t = {}
setmetatable(t, { __tostring = function(t) return "(" .. tostring(t) .. ")" end })
local s = tostring(t)
