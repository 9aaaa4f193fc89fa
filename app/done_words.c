#include "app/done_words.h"

#include <stddef.h>
#include <string.h>

static const char *const words[][2] = {
    {"batch add", "Batch mixed"},
    {"batch correct", "Batch dried, color read"},
    {"batch left", "Rest of a batch put on the shelf"},
    {"batch pour", "Poured into a batch"},
    {"batch remove", "Batch taken off the list"},
    {"client add", "Client entered"},
    {"client change", "Client changed"},
    {"client remove", "Client taken off the list"},
    {"days accept", "Days kept"},
    {"export read", "Export read"},
    {"import", "Job document entered"},
    {"money add", "Money written down"},
    {"paint add", "Paint put on the shelf"},
    {"paint change", "Paint changed"},
    {"paint measured", "Measured paint put on the shelf"},
    {"paint remove", "Paint taken off the shelf"},
    {"paint stock", "Stock of a paint entered"},
    {"picture add", "Picture kept"},
    {"picture remove", "Picture taken off the list"},
    {"piece accept", "Agreed, or read"},
    {"piece add", "Piece entered"},
    {"piece again", "Piece entered, like another"},
    {"piece change", "Piece changed"},
    {"piece close", "Piece closed"},
    {"piece part", "Part changed"},
    {"piece part remove", "Part as it was"},
    {"piece remove", "Piece taken off the list"},
    {"piece test", "Test answered"},
    {"recipe keep", "Recipe kept"},
    {"recipe remove", "Recipe taken off the list"},
    {"record add", "Record logged"},
    {"record confirm", "Record confirmed"},
    {"restore", "Restored from a copy"},
    {"sample add", "Sample logged"},
    {"sample remove", "Sample taken off the list"},
    {"shop change", "Shop changed"},
    {"supply add", "Supply entered"},
    {"supply change", "Supply changed"},
    {"supply remove", "Supply taken off the list"},
    {"supply stock", "Stock of a supply entered"},
    {"task done", "Task done"},
    {"task slip", "Task put off"},
    {"task start", "Task begun"},
    {"task undone", "Task open again"},
    {"undo", "Taken back"},
};

const char *done_words(const char *operation) {
    for (size_t i = 0; operation && i < sizeof words / sizeof *words; i++)
        if (!strcmp(words[i][0], operation)) return words[i][1];
    return NULL;
}
