// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstdio>

#include "port.hpp"

namespace port {

void say(std::string_view text) noexcept { std::fwrite(text.data(), 1, text.size(), stdout); }
std::uint64_t instructions() noexcept { return 0; }
void paint_stack() noexcept {}
std::uint32_t stack_used() noexcept { return 0; }
void call_from_interrupt(void (*)() noexcept, std::uint32_t) noexcept {}
void wait_for_interrupt() noexcept {}

}  // namespace port
