/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** mix_tools - which tool each oil of a mix is measured with. Internal. */
#ifndef MIDWEIGHT_BLEND_MIX_TOOLS_H
#define MIDWEIGHT_BLEND_MIX_TOOLS_H

#include "blend/mix.h"

/**
 * Given:     job     with its tools
 *            mix     volumes and states
 * Returned:  mix     tools of all oils
 */
void mw_mix_set_tools(const struct mw_mix_job *job, struct mw_mix *mix);

#endif
