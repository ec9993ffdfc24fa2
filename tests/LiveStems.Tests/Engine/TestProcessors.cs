using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Tests.Engine;

/// <summary>Small processors whose effect on the engine is easy to predict.</summary>
internal static class TestProcessors
{
    public static ProcessorCatalogue Catalogue { get; } = new(
    [
        () => new Late(),
        () => new Scale(),
        () => new Echo(),
        () => new KeyPasser(),
        () => new Breaker(),
    ]);

    private static ProcessorDescription Describe(string id, params ParameterSpec[] parameters) =>
        new(id, id, 1, "For tests.", parameters, id == "key-passer");

    /// <summary>Passes the sound on 100 frames later, and says so.</summary>
    private sealed class Late() : Processor(Describe("late"))
    {
        private readonly float[] left = new float[100];
        private readonly float[] right = new float[100];
        private int position;

        public override int LatencyFrames => 100;

        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
            Array.Clear(left);
            Array.Clear(right);
            position = 0;
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            for (int i = 0; i < segment.Frames; i++)
            {
                (segment.Left[i], left[position]) = (left[position], segment.Left[i]);
                (segment.Right[i], right[position]) = (right[position], segment.Right[i]);
                position = (position + 1) % left.Length;
            }
        }
    }

    /// <summary>Multiplies by a factor.</summary>
    private sealed class Scale() : Processor(Describe(
        "scale", new ParameterSpec("factor", "Factor", ParameterUnit.None, -4, 4, 1, Taper.Linear, "Multiplies.")))
    {
        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            float factor = (float)Value(0);
            for (int i = 0; i < segment.Frames; i++)
            {
                segment.Left[i] *= factor;
                segment.Right[i] *= factor;
            }
        }
    }

    /// <summary>Repeats the sound for ever, at half the level every 1000 frames.</summary>
    private sealed class Echo() : Processor(Describe("echo"))
    {
        private readonly float[] left = new float[1000];
        private readonly float[] right = new float[1000];
        private int position;

        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
            Array.Clear(left);
            Array.Clear(right);
            position = 0;
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            for (int i = 0; i < segment.Frames; i++)
            {
                segment.Left[i] = left[position] = segment.Left[i] + 0.5f * left[position];
                segment.Right[i] = right[position] = segment.Right[i] + 0.5f * right[position];
                position = (position + 1) % left.Length;
            }
        }
    }

    /// <summary>Puts out what it listens to.</summary>
    private sealed class KeyPasser() : Processor(Describe("key-passer"))
    {
        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            segment.KeyLeft.CopyTo(segment.Left);
            segment.KeyRight.CopyTo(segment.Right);
        }
    }

    /// <summary>Delivers NaN from its 5000th frame on.</summary>
    private sealed class Breaker() : Processor(Describe("breaker"))
    {
        private int frames;

        protected override void OnPrepare()
        {
        }

        protected override void OnReset() => frames = 0;

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            for (int i = 0; i < segment.Frames; i++)
            {
                segment.Left[i] = ++frames > 5000 ? float.NaN : segment.Left[i];
            }
        }
    }
}
