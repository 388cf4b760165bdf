require("loop\0.lua")
