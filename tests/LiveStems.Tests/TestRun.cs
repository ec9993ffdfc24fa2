using Xunit.Sdk;
using Xunit.v3;

// A collection that another test causes closes the allocation window of every thread, and the runtime then counts what was
// left of it as allocated: tests that show that nothing is allocated would fail now and then beside others.
[assembly: Parallelization(Mode = ParallelMode.None)]
