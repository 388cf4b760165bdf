local ok = true
pairs = function() end
