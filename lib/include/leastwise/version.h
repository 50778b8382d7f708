/* The version of these headers; leastwise_version() and leastwise::version() tell the library's. */
#pragma once

#define LEASTWISE_VERSION_MAJOR 0
#define LEASTWISE_VERSION_MINOR 1
#define LEASTWISE_VERSION_PATCH 0
