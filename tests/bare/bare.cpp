// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/items/frame.hpp"

namespace {
stilling::frame latest;
}

int main() {
  latest.indication.set(stilling::channel::o2, 0.05);
  return latest.usable(stilling::channel::o2) ? 0 : 1;
}
