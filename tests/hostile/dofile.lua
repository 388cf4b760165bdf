dofile("/etc/passwd")
