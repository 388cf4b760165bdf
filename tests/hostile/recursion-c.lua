local function down()
	return ("x"):rep(1) .. select(2, pcall(down))
end
down()
error("came back")
