/* The version of these headers; leastwise_version() and leastwise::version() tell the library's. */
#pragma once

#define LEASTWISE_VERSION_MAJOR 0 /* a new one may break programs and files */
#define LEASTWISE_VERSION_MINOR 1 /* before 1.0 so may a new one of these */
#define LEASTWISE_VERSION_PATCH 0 /* faults mended, nothing else */
