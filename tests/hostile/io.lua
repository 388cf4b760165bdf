local f = io.open("/etc/passwd")
