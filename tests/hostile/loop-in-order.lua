table.sort({ 3, 1, 2 }, function(a, b)
	while true do end
end)
