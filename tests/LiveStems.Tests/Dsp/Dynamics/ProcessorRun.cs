using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

/// <summary>Runs a processor over a whole sound, block by block.</summary>
internal static class ProcessorRun
{
    /// <summary>Prepares a processor with the given parameters.</summary>
    public static T Prepared<T>(int sampleRate, params (string Id, double Value)[] settings)
        where T : Processor, new()
    {
        T processor = new();
        foreach ((string id, double value) in settings)
        {
            int index = processor.Description.IndexOf(id);
            Assert.True(index >= 0, $"{processor.Description.Id} has no parameter {id}");
            processor.SetParameter(index, value);
        }

        processor.Prepare(new ProcessingFormat(sampleRate, 8192));
        return processor;
    }

    /// <summary>Output of a sound that is its own key.</summary>
    public static (float[] Left, float[] Right) Through(Processor processor, float[] left, float[] right, int blockFrames = 512)
    {
        float[] outLeft = [.. left];
        float[] outRight = [.. right];
        for (int start = 0; start < left.Length; start += blockFrames)
        {
            int frames = Math.Min(blockFrames, left.Length - start);
            processor.Process(new StereoBlock(outLeft.AsSpan(start, frames), outRight.AsSpan(start, frames)));
        }

        return (outLeft, outRight);
    }

    /// <summary>Output of a sound that listens to a key.</summary>
    public static (float[] Left, float[] Right) Through(Processor processor, float[] left, float[] right, float[] key, int blockFrames = 512)
    {
        float[] outLeft = [.. left];
        float[] outRight = [.. right];
        for (int start = 0; start < left.Length; start += blockFrames)
        {
            int frames = Math.Min(blockFrames, left.Length - start);
            ReadOnlySpan<float> part = key.AsSpan(start, frames);
            processor.Process(new StereoBlock(outLeft.AsSpan(start, frames), outRight.AsSpan(start, frames), part, part));
        }

        return (outLeft, outRight);
    }
}
