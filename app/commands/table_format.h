// How a command prints its table.
#pragma once

namespace levelrun {

enum class TableFormat { page, csv, json };

}  // namespace levelrun
