local function down(n)
	return 1 + down(n + 1)
end
down(1)
