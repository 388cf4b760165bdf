#!/bin/bash
# Includes go one way. Each folder may include itself and the folders named beside it, nothing else.
cd "$(dirname "$0")/.."
declare -A may=(
	[base]=""
	[json]="base"
	[quantity]="base json"
	[lineup]="base json quantity"
	[judge]="base json quantity lineup"
	[model]="base json quantity lineup judge"
	[playbook]="base json quantity lineup judge model"
	[unit]="base json quantity lineup judge model"
	[reason]="base json quantity lineup judge model"
	[engine]="base json quantity lineup judge model unit reason"
	[record]="base json quantity lineup judge model unit reason engine"
	[sim]="base json quantity lineup judge model unit reason engine"
	[seat]="base json quantity lineup judge model playbook unit reason engine record sim"
	[proof]="base json quantity lineup judge model playbook unit reason engine record sim"
	[report]="base json quantity lineup judge model playbook unit reason engine record sim seat proof"
	[page]="base json quantity lineup judge model playbook unit reason engine record sim seat proof report"
	[cli]="base json quantity lineup judge model playbook unit reason engine record sim seat proof report page"
)
bad=0
while IFS=: read -r file line text; do
	from=$(echo "$file" | sed -E 's,^(include/halfsplit|core)/([^/]+)/.*,\2,')
	to=$(echo "$text" | sed -nE 's,.*"halfsplit/([^/]+)/.*,\1,p')
	[ -z "$to" ] && continue
	[ "$from" = "$to" ] && continue
	case " ${may[$from]:-} " in
	*" $to "*) ;;
	*) echo "not ok layers: $file:$line: $from must not include $to"; bad=1 ;;
	esac
done < <(grep -rnE '^ *# *include *"' include core --include='*.[ch]')
while read -r file; do
	case $file in core/playbook/*) ;; *) echo "not ok layers: $file includes lua outside core/playbook"; bad=1 ;; esac
done < <(grep -rlE '# *include *[<"](lua|lauxlib|lualib)' include core)
while read -r file; do
	case $file in core/json/*) ;; *) echo "not ok layers: $file includes cJSON outside core/json"; bad=1 ;; esac
done < <(grep -rlE '# *include *[<"](cjson|cJSON)' include core)
[ $bad -eq 0 ] && echo "ok layers"
exit $bad
