require "/etc/passwd"
