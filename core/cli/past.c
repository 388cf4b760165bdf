#include <string.h>
#include "past.h"

/* One damaged byte does not make another kind of file of it. */
static bool looks_like_one(const hs_buf *data)
{
	static const char bom[] = "\xef\xbb\xbf", start[] = "{\"seq\":0,\"prev\":\"", kind[] = "\"kind\":\"opened\"",
	                  hash[] = ",\"hash\":\"";
	size_t skip = data->length >= 3 && memcmp(data->data, bom, 3) == 0 ? 3 : 0;
	const char *text = data->data + skip;
	size_t length = data->length - skip;
	size_t begun = length < sizeof start - 1 ? length : sizeof start - 1;
	size_t early = length < 4096 ? length : 4096;
	return (length > 0 && memcmp(text, start, begun) == 0) || memmem(text, early, kind, sizeof kind - 1) ||
	       memmem(text, length, hash, sizeof hash - 1);
}

static bool is_transcript(const hs_past *past, hs_error *error)
{
	if (past->chain.state == HS_CHAIN_EMPTY) {
		hs_fail(error, HS_BAD_INPUT, "the transcript is empty");
		return hs_fail_at(error, past->path, 0);
	}
	if (!past->chain.count && !looks_like_one(&past->data)) {
		hs_fail(error, HS_BAD_INPUT, "this is not a halfsplit transcript: %.300s", past->chain.reason);
		return hs_fail_at(error, past->path, 0);
	}
	if (past->result->state == HS_REPLAY_FOREIGN) {
		*error = past->result->error;
		return hs_fail_at(error, past->path, 1);
	}
	return true;
}

bool hs_past_read(hs_past *past, const char *path, hs_error *error)
{
	*past = (hs_past){.path = path};
	hs_buf_init(&past->data);
	past->replay = hs_replay_new(hs_bench_replay, &past->bench);
	bool fine =
	    hs_file_read(path, "transcript", HS_JOURNAL_MOST, &past->data, error) &&
	    hs_chain_check(past->data.data, past->data.length, hs_replay_line, past->replay, &past->chain, error);
	past->result = hs_replay_get(past->replay);
	if (fine && is_transcript(past, error))
		return true;
	hs_past_free(past);
	return false;
}

bool hs_past_holds_together(const hs_past *past, const char *what, hs_error *error)
{
	const char *reason = NULL;
	if (past->chain.state == HS_CHAIN_TAMPERED || !past->chain.count)
		reason = past->chain.reason;
	else if (past->result->state != HS_REPLAY_GOOD)
		reason = past->result->reason;
	if (!reason)
		return true;
	hs_fail(error, HS_BAD_INPUT, "nothing is %s from a transcript that does not hold together: %.400s", what, reason);
	hs_fail_hint(error, "halfsplit audit tells more");
	return hs_fail_at(error, past->path, 0);
}

void hs_past_free(hs_past *past)
{
	hs_replay_free(past->replay);
	hs_bench_free(&past->bench);
	hs_buf_free(&past->data);
	past->replay = NULL;
}
