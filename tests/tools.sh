#!/bin/bash
# Installs the Debian packages named as arguments that are not there yet. A complete machine is not touched.
set -eu
missing=()
for package in "$@"; do
	status=$(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true)
	[ "$status" = "install ok installed" ] || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
	if ! command -v sudo >/dev/null; then
		echo "These packages are missing: ${missing[*]}." >&2
		echo "Neither root nor sudo is at hand; ask whoever looks after this machine to install them." >&2
		exit 3
	fi
	as_root=(sudo)
fi
echo "Installing what halfsplit is built with and is not here yet: ${missing[*]}"
[ ${#as_root[@]} -eq 0 ] || echo "(through sudo, because installing packages needs root)"
export DEBIAN_FRONTEND=noninteractive
"${as_root[@]}" apt-get -qq update
"${as_root[@]}" apt-get -qq -y --no-install-recommends install "${missing[@]}" >/dev/null
