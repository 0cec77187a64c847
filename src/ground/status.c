/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/status.h>

const char *trn_status_text(trn_status status)
{
    switch (status) {
#define TRN_X(name, number, word, text) \
    case name:                          \
        return text;
        TRN_ERROR_LIST(TRN_X)
#undef TRN_X
#define TRN_X(name, text) \
    case name:            \
        return text;
        TRN_REMARK_LIST(TRN_X)
#undef TRN_X
    case TRN_OK:
    case TRN_STATUS_END:
        break;
    }
    return "";
}

const char *trn_status_word(trn_status status)
{
    switch ((int)status) {
#define TRN_X(name, number, word, text) \
    case name:                          \
        return word;
        TRN_ERROR_LIST(TRN_X)
#undef TRN_X
    default:
        return "";
    }
}
