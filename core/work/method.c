#include "core/work/method.h"

#include "core/work/lookup.h"

#include <string.h>

const struct methods_row *method_of(const struct tables *t, const char *id) {
    for (size_t i = 0; id && i < t->methods_n; i++)
        if (!strcmp(t->methods[i].id, id)) return &t->methods[i];
    return NULL;
}

const char *method_name(const struct methods_row *m, bool metric) {
    return metric ? m->name_metric : m->name;
}

bool method_sprays(const struct tables *t, const char *id) {
    const struct methods_row *m = method_of(t, id);
    return m && m->mist;
}

static int rank_of(const struct methods_row *m, enum shape_form form) {
    switch (form) {
    case FORM_FLAT: return m->flat;
    case FORM_PANEL: return m->panel;
    case FORM_NARROW: return m->narrow;
    case FORM_TURNED: return m->turned;
    case FORM_OPEN: return m->open;
    case FORM_UNSAID: break;
    }
    return 0;
}

static double all_of(const double *form_m2) {
    double all = 0;
    for (int f = 0; f < METHOD_FORMS; f++) all += form_m2[f];
    return all;
}

/* Mean rank over the area; what the tool cannot do at all weighs against it, and too much of that
 * rules it out (negative). */
static double fitness(const struct tables *t, const struct methods_row *m, const double *form_m2) {
    double all = all_of(form_m2), rank = 0, cannot = 0;
    if (!(all > 0)) return m->narrow;
    for (enum shape_form f = FORM_FLAT; f <= FORM_OPEN; f++) {
        rank += rank_of(m, f) * form_m2[f];
        if (!rank_of(m, f)) cannot += form_m2[f];
    }
    return cannot > figure(t, FIGURES_TOOL_SHARE_FRAC) * all ? -1 : rank / all;
}

static bool owned(const struct shop *shop, const struct methods_row *m) {
    if (!strcmp(m->id, "brush")) return true;
    if (!shop->tools_n) return m->owned;
    for (size_t i = 0; i < shop->tools_n; i++)
        if (!strcmp(shop->tools[i], m->id)) return true;
    return false;
}

const struct methods_row *method_choose(const struct tables *t, const struct shop *shop,
                                        const double *form_m2, const char *wanted,
                                        bool *out_asked) {
    const struct methods_row *asked = method_of(t, wanted), *best = method_of(t, "brush");
    *out_asked = asked && fitness(t, asked, form_m2) >= 0;
    if (*out_asked) return asked;
    double most = best ? fitness(t, best, form_m2) : -1;
    for (size_t i = 0; i < t->methods_n; i++) {
        double fit = owned(shop, &t->methods[i]) ? fitness(t, &t->methods[i], form_m2) : -1;
        if (fit <= most) continue;
        most = fit;
        best = &t->methods[i];
    }
    return best ? best : &t->methods[0];
}

double method_loss_frac(const struct methods_row *m, const double *form_m2) {
    double all = all_of(form_m2), slender = form_m2[FORM_TURNED] + form_m2[FORM_OPEN];
    if (!(all > 0)) return m->loss_frac;
    double taken = (all - slender) / (1 - m->loss_frac) + slender / (1 - m->loss_open_frac);
    return 1 - all / taken;
}

const char *method_form_name(const double *form_m2) {
    static const char *const names[METHOD_FORMS] = {"",
                                                    "broad flats",
                                                    "frame and panel",
                                                    "narrow pieces and edges",
                                                    "turned work",
                                                    "slats and open work"};
    enum shape_form most = FORM_FLAT;
    for (enum shape_form f = FORM_FLAT; f <= FORM_OPEN; f++)
        if (form_m2[f] > form_m2[most]) most = f;
    return names[most];
}

static enum status unknown(const struct room *r, const char *field, const char *id,
                           struct why *why) {
    char names[256] = "";
    for (size_t i = 0; i < r->t->methods_n; i++) {
        if (strlen(names) + strlen(r->t->methods[i].id) + 3 > sizeof names) break;
        if (i) strcat(names, ", ");
        strcat(names, r->t->methods[i].id);
    }
    return why_say(why, E_REFERENCE, field, "\"%.60s\" is no tool I know. Write one of %s.", id,
                   names);
}

enum status method_check(const struct room *r, struct why *why) {
    const char *wanted = r->piece->wanted.method;
    for (size_t i = 0; i < r->shop->tools_n; i++)
        if (!method_of(r->t, r->shop->tools[i]))
            return unknown(r, ROOM_TEXT(r, "/shop/tools/%zu", i), r->shop->tools[i], why);
    if (wanted && !method_of(r->t, wanted))
        return unknown(r, ROOM_TEXT(r, "%s/wanted/method", r->at), wanted, why);
    return OK;
}
