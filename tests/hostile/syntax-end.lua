local function f()
	return {
