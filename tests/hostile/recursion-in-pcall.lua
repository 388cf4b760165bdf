local function down()
	while true do pcall(down) end
end
down()
