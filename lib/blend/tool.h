/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * tool - what the oils of a mix are measured with: a syringe, a scale, both, or
 * drops.
 */
#ifndef MIDWEIGHT_BLEND_TOOL_H
#define MIDWEIGHT_BLEND_TOOL_H

#ifdef __cplusplus
extern "C" {
#endif

/** What one dose is measured with. */
enum mw_tool { MW_TOOL_NONE, MW_TOOL_SYRINGE, MW_TOOL_SCALE, MW_TOOL_DROPS };

/** The tools at hand; 0 where there is none, so that {0} is no tool. */
struct mw_tools {
    double graduation_ml; /* of a syringe */
    double capacity_ml;   /* of the syringe; 0: it holds every dose */
    double resolution_g;  /* of a scale */
    double drop_ml;       /* of a drop of oils that have no size of their own */
};

/** How one oil is measured. */
struct mw_dose_tool {
    enum mw_tool tool;
    double step_ml; /* of this oil: a graduation, the resolution of the scale or
                       a drop; NaN where nothing is measured */
    double draw_ml; /* whole graduations that the syringe holds; INFINITY where
                       one draw is enough for everything */
};

#ifdef __cplusplus
}
#endif

#endif
