require "no-such-thing"
