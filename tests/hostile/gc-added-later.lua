local meta = {}
local t = setmetatable({}, meta)
meta.__gc = function() while true do end end
setmetatable(t, meta)
