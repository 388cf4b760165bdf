local function check(x)
	error("x was wanted", 2)
end
check(1)
