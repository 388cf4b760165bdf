debug.sethook()
