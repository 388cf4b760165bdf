local t = setmetatable({}, { __close = function() while true do end end })
