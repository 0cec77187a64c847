/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue.h"

const trn_formula trn_formulas_grease[] = {{0}};
const size_t trn_formulas_grease_count = 0;

const trn_source trn_sources_grease[] = {{0}};
const size_t trn_sources_grease_count = 0;
