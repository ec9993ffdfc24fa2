using System.Reflection.Emit;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class AudioCallTests
{
    [Fact]
    public void AMethodThatIsCompiledWithinACallIsCounted()
    {
        AudioStatistics statistics = new();
        CompilingRenderer renderer = new();
        float[] block = new float[64];
        AudioCall.Run(renderer, block, block, 48_000, statistics);
        long before = statistics.CompiledMethods;
        AudioCall.Run(renderer, block, block, 48_000, statistics);
        Assert.Equal(before, statistics.CompiledMethods);

        renderer.Next = New();
        AudioCall.Run(renderer, block, block, 48_000, statistics);
        Assert.Equal(before + 1, statistics.CompiledMethods);
    }

    private static Action New()
    {
        DynamicMethod method = new("New", null, null);
        method.GetILGenerator().Emit(OpCodes.Ret);
        return method.CreateDelegate<Action>();
    }

    private sealed class CompilingRenderer : IAudioRenderer
    {
        public Action Next { get; set; } = New();

        public void Render(Span<float> left, Span<float> right) => Next();
    }
}
