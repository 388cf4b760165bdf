string.sub = function() return "forged" end
