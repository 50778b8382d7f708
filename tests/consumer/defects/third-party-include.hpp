#pragma once
#include <vendor/vendor.h>
