setmetatable(math, {})
