setmetatable("", {})
