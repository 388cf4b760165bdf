require "../../etc/passwd"
