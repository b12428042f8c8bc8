#pragma once

#include <vector>

#include "common/course/registry.h"
#include "common/journal/record.h"
#include "tests/simulation/random.h"

/// What people write down in the simulation, and the builds that read it.
namespace swardwalk::simulation {

/// The program that a device runs: other builds know fewer or more types of records.
enum class Build { older, present, newer };
inline constexpr int buildCount = 3;

/// The types that a build knows; live as long as the program.
const std::vector<course::RecordType>& typesOf(Build build);
int foldVersionOf(Build build);

/// Draws what a crew might write with this build: sightings and the like, also of a newer
/// type, and now and then something that makes no sense (J6).
journal::Draft drawDraft(Random& random, Build build);

}  // namespace swardwalk::simulation
