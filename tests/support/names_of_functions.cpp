#include "analysis/analysis.h"
namespace relead::analysis {
std::string_view to_string(Function function) {
    switch (function) {
        case Function::tonic: return "tonic";
        case Function::predominant: return "predominant";
        case Function::dominant: return "dominant";
        case Function::substitute_dominant: return "substitute dominant";
        case Function::backdoor: return "backdoor";
        default: return "other";
    }
}
}  // namespace relead::analysis
