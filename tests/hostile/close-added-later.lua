local meta = {}
local t = setmetatable({}, meta)
meta.__close = function() while true do end end
do
	local x <close> = t
end
