rawset(string, "sub", nil)
