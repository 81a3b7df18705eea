// Work in parts on several threads, each part writing to a place of its own.
#pragma once

#include <functional>

namespace rimload {

/// Told how many parts of how many are done, from one thread at a time; may be empty.
using Progress = std::function<void(int done, int all)>;

/// Runs work(0) to work(n - 1), on so many threads at once; which thread takes which part does not
/// matter to what each writes. The first exception of a part ends the rest and is thrown again.
void run_parts(int n, int n_threads, const std::function<void(int)>& work,
               const Progress& progress = {});

}  // namespace rimload
