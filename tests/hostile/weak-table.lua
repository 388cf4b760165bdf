local t = setmetatable({}, { __mode = "k" })
