// What the page asks the engine, as JSON text.
#pragma once

#include <string_view>

#include "job/job.hpp"

namespace rimload {

/// `{"command": "fit", "case": "case.json", ...}`: the commands of the program by their names, with
/// the members of their requests (`job.hpp`): `fit` {pictures, samples, bands, seed}, `straps`,
/// `section` {site}, `dressing`, `sizes` {draws, seed}, `seen` {draws, seed}, `measure` {file,
/// guide}, `scan` {file, unit}, `check` {files}, `schema` {name}, `look`
/// {moving}, and `tell` of the last look at rest.
/// @throws InputError when there is no such command, or a member is of another type
[[nodiscard]] JobRequest read_request(std::string_view text);

}  // namespace rimload
