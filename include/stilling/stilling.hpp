// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The umbrella: one include for everything that runs live, from the words to the combustion figures
// and the text they are told in. Every header compiles alone too: firmware that only settles needs
// stilling/session.hpp, and the offline segmentation, which is larger, is asked for by name.

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/explain.hpp"
#include "stilling/combustion/fuel_table.hpp"
#include "stilling/estimators/change.hpp"
#include "stilling/estimators/noise.hpp"
#include "stilling/estimators/resolution.hpp"
#include "stilling/estimators/rhythm.hpp"
#include "stilling/estimators/trend.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/estimators/window.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/items/record.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/session.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/result.hpp"
#include "stilling/terms/settings.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/terms/unit.hpp"
#include "stilling/terms/units.hpp"
#include "stilling/text.hpp"
