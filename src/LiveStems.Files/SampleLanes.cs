using System.Runtime.Intrinsics;

namespace LiveStems.Files;

/// <summary>Sums over the lanes of a vector.</summary>
internal static class SampleLanes
{
    /// <summary>The largest lane.</summary>
    internal static int Largest(Vector128<int> lanes) => Math.Max(
        Math.Max(lanes.GetElement(0), lanes.GetElement(1)),
        Math.Max(lanes.GetElement(2), lanes.GetElement(3)));
}
