// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

namespace stilling::command {

/// The stilling command: words to a request, the request to its verb. `words` as `main` has them,
/// the program's name first; gives the exit status. Signals are the command's from here on, so once
/// in a process, which is over with it.
[[nodiscard]] int answer(int count, const char* const* words);

}  // namespace stilling::command
