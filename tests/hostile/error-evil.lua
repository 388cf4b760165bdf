local function forever() while true do end end
error(setmetatable({}, { __tostring = forever, __index = forever, __name = "evil", __concat = forever }))
