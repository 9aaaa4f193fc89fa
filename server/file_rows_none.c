/* In place of the web files where the page was not built. */
#include "server/files.h"

const struct file_row file_rows[] = {{0}};
const size_t file_rows_n = 0;
