local bytes = string.dump(function() end)
