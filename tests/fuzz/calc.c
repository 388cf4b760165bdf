/* The calculator: a finite number that prints, or a class and a sentence. */
#include "target.h"
#include "halfsplit/judge/expression.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *text = fuzz_copy(data, size, false);
	hs_worked worked;
	hs_error error = {0};
	hs_fault fault = HS_FAULT_COUNT;
	if (hs_expression_work(text, size, &worked, &fault, &error)) {
		hs_buf shown;
		hs_buf_init(&shown);
		CLAIM(isfinite(worked.value));
		CLAIM(!(worked.value == 0 && signbit(worked.value)));
		hs_worked_print(&shown, &worked);
		CLAIM(shown.length > 0 && hs_utf8_valid(shown.data, shown.length));
		CLAIM(hs_utf8_valid(worked.steps.data, worked.steps.length));
		CLAIM(!strstr(shown.data, "not a number") && !strstr(shown.data, "infinite"));
		CLAIM(!strstr(worked.steps.data, "not a number") && !strstr(worked.steps.data, "infinite"));
		hs_buf_free(&shown);
		hs_worked_free(&worked);
	} else {
		CLAIM((unsigned)fault < HS_FAULT_COUNT);
		fuzz_refused(&error);
	}
	free(text);
	return 0;
}
