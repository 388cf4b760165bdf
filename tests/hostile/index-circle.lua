local a, b = {}, {}
setmetatable(a, { __index = b })
setmetatable(b, { __index = a })
local v = a.x
