getmetatable("").__index = nil
