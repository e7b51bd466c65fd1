// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A Cortex-M board without an operating system: vectors, start-up, semihosting, SysTick. Symbols
// that name a place are board.ld's.

#include <cstddef>
#include <cstdint>

#include "port.hpp"

extern "C" {
extern std::uint32_t ram_image_begin[], ram_image_end[], flash_image[], bss_begin[], bss_end[];
extern std::uint32_t stack_bottom[], stack_top[];
extern void (*__init_array_start[])();
extern void (*__init_array_end[])();
int begin() asm("main");
[[noreturn]] void reset();
void systick();
[[noreturn]] void stopped();
}

namespace {

using vector = void (*)();
struct vector_table {
  std::uint32_t* stack;
  vector at[15];
};
[[gnu::section(".vectors"), gnu::used]] constinit const vector_table vectors{
    stack_top,
    {reset, stopped, stopped, stopped, stopped, stopped, nullptr, nullptr, nullptr, nullptr,
     stopped, stopped, nullptr, stopped, systick}};

/// Arm semihosting, version 2.0: the operation in r0, its argument in r1.
std::uintptr_t semihost(std::uintptr_t operation, std::uintptr_t argument) noexcept {
  register std::uintptr_t r0 asm("r0") = operation;
  register std::uintptr_t r1 asm("r1") = argument;
  asm volatile("bkpt 0xab" : "+r"(r0) : "r"(r1) : "memory");
  return r0;
}
constexpr std::uintptr_t write0 = 0x04, exit_now = 0x18;
constexpr std::uintptr_t all_is_well = 0x20026, something_is_wrong = 0x20023;

/// A register of the Armv7-M system control space.
volatile std::uint32_t& control(std::uintptr_t address) noexcept {
  return *reinterpret_cast<volatile std::uint32_t*>(address);
}
constexpr std::uintptr_t systick_control = 0xE000E010, systick_reload = 0xE000E014,
                         systick_now = 0xE000E018, coprocessors = 0xE000ED88;
constexpr std::uint32_t clock_hertz = 25'000'000;  // of both boards
// boards.py runs them with -icount shift=5: an instruction takes 32 ns of their time.
constexpr std::uint64_t tick_nanoseconds = 40, instruction_nanoseconds = 32;

constexpr std::uint32_t paint = 0xC0FFEE11;
std::uint32_t* painted_to = nullptr;
volatile std::uint32_t wraps = 0;
void (*on_tick)() noexcept = nullptr;

}  // namespace

namespace port {

void say(std::string_view text) noexcept {
  char piece[64];
  while (!text.empty()) {
    std::size_t n = 0;
    for (; n < text.size() && n + 1 < sizeof piece; ++n) piece[n] = text[n];
    piece[n] = '\0';
    semihost(write0, reinterpret_cast<std::uintptr_t>(piece));
    text.remove_prefix(n);
  }
}

std::uint64_t instructions() noexcept {
  constexpr std::uint64_t turn = std::uint64_t{1} << 24U;
  std::uint32_t before = 0, now = 0;
  do {  // a wrap between the two reads shows in the count
    before = wraps;
    now = control(systick_now);
  } while (before != wraps);
  return (before * turn + (turn - 1 - now)) * tick_nanoseconds / instruction_nanoseconds;
}

void paint_stack() noexcept {
  std::uint32_t* here = nullptr;
  asm volatile("mov %0, sp" : "=r"(here));
  painted_to = here - 16;
  for (volatile std::uint32_t* p = stack_bottom; p < painted_to; ++p) *p = paint;
}

std::uint32_t stack_used() noexcept {
  const std::uint32_t* p = stack_bottom;
  while (p < painted_to && *p == paint) ++p;
  return static_cast<std::uint32_t>(reinterpret_cast<std::uintptr_t>(painted_to + 16) -
                                    reinterpret_cast<std::uintptr_t>(p));
}

void call_from_interrupt(void (*tick)() noexcept, std::uint32_t times_a_second) noexcept {
  on_tick = tick;
  control(systick_control) = 0;
  control(systick_reload) = clock_hertz / times_a_second - 1;
  control(systick_now) = 0;
  control(systick_control) = 7;
}

void wait_for_interrupt() noexcept { asm volatile("wfi" ::: "memory"); }

}  // namespace port

extern "C" {

void systick() {
  wraps = wraps + 1;
  if (on_tick != nullptr) on_tick();
}

void stopped() {
  port::say("stopped by a fault\n");
  semihost(exit_now, something_is_wrong);
  while (true) {}
}

// What the C++ library would call to give up; reached by nothing here.
void abort() { stopped(); }

void reset() {
  control(coprocessors) = control(coprocessors) | (0xFU << 20U);  // the floating-point unit
  asm volatile("dsb\n isb" ::: "memory");
  const std::uint32_t* from = flash_image;
  for (std::uint32_t* to = ram_image_begin; to < ram_image_end; ++to) *to = *from++;
  for (std::uint32_t* p = bss_begin; p < bss_end; ++p) *p = 0;
  control(systick_reload) = 0xFFFFFF;
  control(systick_now) = 0;
  control(systick_control) = 7;
  port::paint_stack();
  for (auto* f = __init_array_start; f != __init_array_end; ++f) (*f)();
  port::report("stack_to_begin", port::stack_used());
  port::paint_stack();
  semihost(exit_now, begin() == 0 ? all_is_well : something_is_wrong);
  while (true) {}
}

}  // extern "C"
