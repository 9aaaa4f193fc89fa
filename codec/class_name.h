/* Classes of product by the names people read: "waterborne enamel" is wb_enamel. */
#ifndef CODEC_CLASS_NAME_H
#define CODEC_CLASS_NAME_H

#include <stddef.h>

/* The id of the class that is named so, however its capitals and blanks are; NULL: none is. */
const char *class_id_of_name(const char *name);
/* "clear shellac, 2 lb cut; alkyd primer; ...", cut where `cap` ends; returns `out`. */
const char *class_names_listed(char *out, size_t cap);

#endif
