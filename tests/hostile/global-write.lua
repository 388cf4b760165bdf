local function count()
	total = 1
end
count()
