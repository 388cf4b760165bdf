require "require-self"
